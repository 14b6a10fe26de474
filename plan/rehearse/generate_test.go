package rehearse

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// randomKit is a small random kit. All its joins have names, s0, s1 and so on.
type randomKit struct {
	*rand.Rand
	text   strings.Builder
	pieces []string // ids
	joins  []string
}

func (g *randomKit) chance(p float64) bool { return g.Float64() < p }

func (g *randomKit) piece() string { return g.pieces[g.IntN(len(g.pieces))] }

func (g *randomKit) line(format string, args ...any) { fmt.Fprintf(&g.text, format+"\n", args...) }

func (g *randomKit) side() int { return 1 + g.IntN(6) }

// generate writes a kit of two to eight steps.
func generate(r *rand.Rand) string {
	g := &randomKit{Rand: r}
	g.line("kit: Random\nclearance: 0\nparts:")
	g.addPieces(2 + g.IntN(5))
	g.line("joins:")
	for _, j := range g.joins {
		g.line("  - %s", j)
	}
	if g.chance(.7) {
		g.addSpaces()
	}
	if g.chance(.25) {
		g.line("tasks:\n  - {do: Paint, step: paint, coat: outside%s}", g.asked(len(g.joins)))
	}
	return g.text.String()
}

// addPieces adds parts, and a join for all but the first.
func (g *randomKit) addPieces(parts int) {
	for i := range parts {
		id, copies := string(rune('a'+i)), []string{string(rune('a' + i))}
		extra := ""
		if i > 0 && g.chance(.15) {
			copies, extra = []string{id + ".1", id + ".2"}, ", quantity: 2"
		}
		if g.chance(.6) {
			extra += fmt.Sprintf(", size: [%d, %d, %d]", g.side(), g.side(), g.side())
		}
		if g.chance(.2) {
			extra += ", paint: " + []string{"outside", "off-model"}[g.IntN(2)]
		}
		g.line("  %s: {bought: true%s}", id, extra)
		if i > 0 {
			g.addJoin(id, copies)
		}
		g.pieces = append(g.pieces, copies...)
	}
}

func (g *randomKit) addJoin(id string, copies []string) {
	to := g.piece()
	what := fmt.Sprintf("fit: %s, to: %s", id, to)
	switch {
	case len(copies) == 1 && g.chance(.2):
		what = fmt.Sprintf("close: [%s, %s]", to, id)
	case g.chance(.2):
		if other := g.piece(); other != to {
			what = fmt.Sprintf("fit: %s, to: [%s, %s]", id, to, other)
		}
	}
	if !strings.HasPrefix(what, "close") && g.chance(.25) {
		what += ", bench: true"
	}
	if g.chance(.3) {
		what += ", toward: " + []string{"[1, 0, 0]", "[-1, 0, 0]", "[0, 0, 1]"}[g.IntN(3)]
	}
	what += ", with: " + []string{"ca", "ca", "ca", "screw", "magnet", "loose"}[g.IntN(6)]
	g.joins = append(g.joins, fmt.Sprintf("{%s, step: s%d%s}", what, len(g.joins), g.asked(len(g.joins))))
}

// asked is now and then an after or before: of an earlier join, so that most can be kept.
func (g *randomKit) asked(joins int) string {
	if joins == 0 || !g.chance(.2) {
		return ""
	}
	return fmt.Sprintf(", %s: s%d", []string{"after", "before"}[g.IntN(2)], g.IntN(joins))
}

func (g *randomKit) addSpaces() {
	g.line("spaces:")
	n := 1 + g.IntN(2)
	for i := range n {
		var closers []string
		for range 1 + g.IntN(2) {
			closers = append(closers, g.closer())
		}
		inside := ""
		if i > 0 && g.chance(.5) {
			inside = ", inside: room0"
		}
		g.line("  room%d: {closed-by: [%s], holds: %s%s}", i, strings.Join(closers, ", "), g.piece(), inside)
	}
	if g.chance(.4) {
		through := ""
		if g.chance(.4) {
			through = ", through: " + g.piece()
		}
		g.line("wires:\n  - {wire: lead, from: %s, to: %s%s, runs-in: room%d, across: %d}", g.piece(), g.piece(), through, g.IntN(n), g.side())
	}
}

func (g *randomKit) closer() string {
	if g.chance(.5) {
		return g.piece()
	}
	facing := ""
	if g.chance(.4) {
		facing = ", facing: " + string("xyz"[g.IntN(3)])
	}
	if g.chance(.1) {
		return fmt.Sprintf("{opening: [%d, %d]%s}", g.side(), g.side(), facing)
	}
	return fmt.Sprintf("{piece: %s, opening: [%d, %d]%s}", g.piece(), g.side(), g.side(), facing)
}

// measure draws what was measured of the pieces; nothing for some kits.
func measure(r *rand.Rand, k *kits.Kit) *plan.Geometry {
	if r.IntN(3) == 0 {
		return nil
	}
	n := len(k.Pieces)
	g := &plan.Geometry{Measured: slices.Repeat([]bool{true}, n), Sizes: slices.Repeat([][3]float64{{2, 3, 4}}, n),
		Directions: []geom.Vec{{1, 0, 0}, {-1, 0, 0}, {0, 0, 1}, {0, 0, -1}}, Legs: map[int][]plan.Legs{}, Undercuts: map[int][]plan.Undercut{}}
	for range g.Directions {
		g.InTheWay = append(g.InTheWay, make([][]int32, n))
	}
	for a := range n {
		for b := range n {
			if d := r.IntN(4); a != b && r.IntN(3) == 0 {
				g.InTheWay[d][a] = append(g.InTheWay[d][a], int32(b))
				g.InTheWay[d^1][b] = append(g.InTheWay[d^1][b], int32(a))
			}
			if a != b && r.IntN(20) == 0 {
				g.Undercuts[a] = append(g.Undercuts[a], plan.Undercut{Direction: r.IntN(4), Width: 1, Past: []int32{int32(b)}})
			}
		}
		if r.IntN(5) == 0 {
			g.Legs[a] = []plan.Legs{{Legs: []geom.Leg{{Toward: g.Directions[r.IntN(4)], Distance: 1}}, InTheWay: []int32{int32(r.IntN(n))}}}
		}
	}
	return g
}

// eachSolved calls do with the plans of random kits, as many as are asked for, that have
// no fault and so a sequence.
func eachSolved(t *testing.T, count int, do func(seed uint64, r *rand.Rand, p *plan.Project)) {
	t.Helper()
	for seed := uint64(1); count > 0; seed++ {
		r := rand.New(rand.NewPCG(seed, 11))
		k, err := kits.Read("kit.yaml", []byte(generate(r)))
		if err != nil {
			continue
		}
		p, err := explain.CheckMeasured(k, measure(r, k))
		if err != nil {
			t.Fatal(err)
		}
		if p.Sequence != nil && len(p.Sequence.Order) > 1 {
			count--
			do(seed, r, p)
		}
	}
}

// describe shows a kit that something is wrong with.
func describe(seed uint64, p *plan.Project, order []int) string {
	b := &strings.Builder{}
	text := generate(rand.New(rand.NewPCG(seed, 11)))
	fmt.Fprintf(b, "seed %d\n%s", seed, text)
	if g := p.Constraints.Geometry; g != nil {
		for d := range g.Directions {
			for piece, list := range g.InTheWay[d] {
				if len(list) > 0 {
					fmt.Fprintf(b, "%s leaving %v meets %v\n", p.Kit.Pieces[piece].ID, g.Directions[d], list)
				}
			}
		}
		fmt.Fprintf(b, "legs %v, undercuts %v\n", g.Legs, g.Undercuts)
	}
	for _, v := range order {
		fmt.Fprintf(b, "  %s\n", p.Constraints.Name(v))
	}
	return b.String()
}

// readKit reads a kit for a test, and gives it its steps.
func readKit(t *testing.T, text string) (*kits.Kit, []plan.Step) {
	t.Helper()
	k := kitstest.Read(t, text)
	return k, plan.Derive(k).Steps
}
