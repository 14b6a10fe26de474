package rehearse

import (
	"math/rand/v2"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// exists reports whether the whole kit can be built in any order at all, by trying
// everything from every set of steps that can be done.
func (b *brute) exists() bool {
	all := set(1)<<len(b.steps) - 1
	known := make([]bool, all+1)
	known[0] = true
	for done := set(0); done < all; done++ {
		if !known[done] {
			continue
		}
		for v := range b.steps {
			if !done.has(v) && !known[done.with(v)] && b.asked(v, done) && b.seated(v, done) && b.goes(v, done, done) {
				known[done.with(v)] = true
			}
		}
	}
	return known[all]
}

// There is a sequence exactly if a builder who tries everything finds one, and it can be
// replayed.
func TestExistence(t *testing.T) {
	var count struct{ kits, solvable, reopened, missed, false int }
	for seed := range uint64(kitstest.Rounds(t, 6000, 600)) {
		r := rand.New(rand.NewPCG(seed, 12))
		text := generate(r)
		k, err := kits.Read("kit.yaml", []byte(text))
		if err != nil {
			continue
		}
		g := agreeing(k, measure(r, k))
		p, err := explain.CheckMeasured(k, g)
		if err != nil {
			t.Fatal(err)
		}
		if hasKind(p, plan.Loose) || len(p.Constraints.Steps) > 10 {
			continue
		}
		count.kits++
		b := &brute{k, g, p.Constraints.Steps}
		exists := b.exists()
		works := false
		if p.Sequence != nil {
			walk := Walk(k, g, p.Constraints.Steps, All(p.Sequence.Acts()))
			works = walk.OK() && len(walk.Reopened) == 0
			if len(p.Sequence.Reopened()) > 0 {
				count.reopened++
			}
		}
		if exists {
			count.solvable++
		}
		switch {
		case exists && !works:
			count.missed++
		case !exists && p.OK():
			count.false++
		default:
			continue
		}
		if count.missed+count.false < 4 {
			t.Errorf("seed %d: exists %v, sequence %v, works %v\n%s\n%+v\n%s", seed, exists, p.Sequence != nil, works, text, g, findingsOf(p))
		}
	}
	t.Logf("%+v", count)
}

// agreeing makes measurements that agree with the kit: all pieces touch, and have the sizes
// that the kit gives.
func agreeing(k *kits.Kit, g *plan.Geometry) *plan.Geometry {
	if g == nil {
		return nil
	}
	for a := range k.Pieces {
		if s := k.Pieces[a].Part.Size; s != nil {
			g.Sizes[a] = s.XYZ
		}
		for b := range a {
			g.Touching = append(g.Touching, plan.Touch{A: b, B: a, Contact: 1})
		}
	}
	return g
}

func findingsOf(p *plan.Project) string {
	b := &strings.Builder{}
	for _, f := range p.Findings {
		b.WriteString(f.Kind + " " + f.Text + "\n")
		for _, r := range f.Because {
			b.WriteString("  " + r.Text + "\n")
		}
	}
	return b.String()
}

func hasKind(p *plan.Project, kind string) bool {
	for _, f := range p.Findings {
		if f.Kind == kind {
			return true
		}
	}
	return false
}
