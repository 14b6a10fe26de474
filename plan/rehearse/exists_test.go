package rehearse

import (
	"math/rand/v2"
	"slices"
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

// A case counts the random kits of a test, and what came of them.
type tally struct{ kits, flat, solvable, reopened, wires, service, unserved, missed, false int }

// There is a sequence exactly if a builder who tries everything finds one, and it can be
// replayed with all that it says is taken off: for kits with what is in whose way drawn at
// random.
func TestExistence(t *testing.T) {
	var count tally
	for seed := range uint64(kitstest.Rounds(t, 6000, 600)) {
		r := rand.New(rand.NewPCG(seed, 12))
		if k, err := kits.Read("kit.yaml", []byte(generate(r))); err == nil {
			count.compare(t, seed, k, agreeing(k, measure(r, k)))
		}
	}
	t.Logf("%+v", count)
	if count.reopened < count.kits/50 || count.solvable < count.kits/3 {
		t.Errorf("the kits test too little: %+v", count)
	}
}

// The same for assemblies of boxes on a flat or a deep grid, with pieces that must stay in
// reach on the finished model.
func TestExistenceOfBoxes(t *testing.T) {
	var count tally
	for seed := range uint64(kitstest.Rounds(t, 12000, 800)) {
		r := rand.New(rand.NewPCG(seed, 13))
		if k, err := kits.Read("kit.yaml", []byte(withService(r, generate(r)))); err == nil {
			_, g := boxes(r, k)
			if len(g.Directions) == 4 {
				count.flat++
			}
			count.compare(t, seed, k, agreeing(k, g))
		}
	}
	t.Logf("%+v", count)
	if count.reopened < count.kits/100 || count.solvable < count.kits/3 || count.unserved == 0 || count.wires == 0 {
		t.Errorf("the kits test too little: %+v", count)
	}
}

// compare asks brute force and the program about one kit.
func (n *tally) compare(t *testing.T, seed uint64, k *kits.Kit, g *plan.Geometry) {
	t.Helper()
	p, err := explain.CheckMeasured(k, g)
	if err != nil {
		t.Fatal(err)
	}
	if hasKind(p, plan.Loose) || len(p.Constraints.Steps) > 10 {
		return
	}
	n.kits++
	b := &brute{k, g, p.Constraints.Steps, nil}
	exists, served, works := b.exists(), true, false
	for _, s := range k.Service {
		n.service++
		serves := b.serves(s)
		served = served && serves
		if f := Reach(k, g, p.Constraints.Steps, s); (f == nil) != serves {
			t.Errorf("seed %d: reaching %s: %+v, want it served: %v", seed, k.Pieces[s.Reach].ID, f, serves)
		}
	}
	if p.Sequence != nil {
		walk := Walk(k, g, p.Constraints.Steps, All(p.Sequence.Acts()))
		works = walk.OK() && len(walk.Reopened) == 0
		n.reopened += min(len(p.Sequence.Reopened()), 1)
		for hands := 1; hands <= 2; hands++ {
			_, err := Schedule(p, hands, 0)
			works = works && err == nil
		}
		works = works && followsWhatRemains(k, g, p)
	}
	if exists {
		n.solvable++
		n.wires += min(len(k.Wires), 1)
		if !served {
			n.unserved++
		}
	}
	switch want := exists && served; {
	case want && !works:
		n.missed++
	case !want && p.OK() || !exists && p.Sequence != nil:
		n.false++
	default:
		return
	}
	if n.missed+n.false < 4 {
		t.Errorf("seed %d: an order exists: %v, served: %v, a sequence: %v, that works: %v\n%+v\n%s", seed, exists, served, p.Sequence != nil, works, g, findingsOf(p))
	}
}

// followsWhatRemains builds half of the order and asks what remains: that can be done too,
// and so can each step that is offered next, with the others after it.
func followsWhatRemains(k *kits.Kit, g *plan.Geometry, p *plan.Project) bool {
	order := p.Sequence.Order
	half := order[:len(order)/2]
	done := make([]bool, len(order))
	for _, v := range half {
		done[v] = true
	}
	x := p.Sequence.Remaining(done)
	for _, v := range x.Next() {
		next := slices.Clone(done)
		next[v] = true
		rest := slices.Concat(half, []int{v}, p.Sequence.Remaining(next).Order())
		if !Walk(k, g, p.Constraints.Steps, Actions(rest)).OK() {
			return false
		}
		// What is said to be taken off for the step is all that it takes.
		offered := Walk(k, g, p.Constraints.Steps, slices.Concat(Actions(half), All(x.ActsFor(v))))
		if offered.Failure != nil || slices.ContainsFunc(offered.Reopened, func(r Reopened) bool { return r.At >= len(half) }) {
			return false
		}
	}
	return len(x.Stuck) == 0 && Walk(k, g, p.Constraints.Steps, Actions(slices.Concat(half, x.Order()))).OK()
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
