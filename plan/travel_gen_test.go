package plan_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// A travelDraft is a random kit with random measurements of its pieces: what is in
// whose way is drawn, not shaped, so that no rule of space helps either side.
type travelDraft struct {
	*draft
	g       *plan.Geometry
	leaving []int // join -> the one direction in which what it moves may leave, or -1
}

// generateTravels makes a random kit and draws what is in the way of its pieces.
func generateTravels(r *rand.Rand) travelDraft {
	g := &draftGenerator{Rand: r}
	for g.draft == nil || g.ring {
		g.draft = generateDraft(r)
	}
	d := travelDraft{draft: g.draft, g: g.measure()}
	for range d.joins {
		d.leaving = append(d.leaving, -1)
		if i := len(d.leaving) - 1; g.chance(.35) {
			d.leaving[i] = g.IntN(len(d.g.Directions))
		}
	}
	if g.chance(.7) {
		g.clearWay(d)
		if g.chance(.6) { // and now and then something stands in it
			g.block(d.g, 1+g.few(2))
		}
	}
	return d
}

// measure draws the measurements of all pieces.
func (g *draftGenerator) measure() *plan.Geometry {
	n := len(g.owner)
	m := &plan.Geometry{
		Measured: make([]bool, n), Sizes: make([][3]float64, n), Legs: map[int][]plan.Legs{}, Undercuts: map[int][]plan.Undercut{},
		Directions: []geom.Vec{{1, 0, 0}, {-1, 0, 0}, {0, .6, .8}, {0, -.6, -.8}}[:2+2*g.IntN(2)],
		Resolution: .1, Near: .1, Hit: func(piece, other, direction int) float64 { return float64(1 + piece + other) },
	}
	for _, p := range g.parts {
		measured, size := g.chance(.9), g.randomSize()
		for _, piece := range p.pieces {
			m.Measured[piece], m.Sizes[piece] = measured, [3]float64(size)
		}
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			m.Touching = append(m.Touching, plan.Touch{A: a, B: b, Contact: 1})
		}
	}
	for range m.Directions {
		m.InTheWay = append(m.InTheWay, make([][]int32, n))
	}
	g.block(m, int(g.some(4)*float64(n*len(m.Directions))))
	for p := range n {
		if g.chance(.3) && m.Measured[p] {
			first, last := pickOne(g, m.Directions), pickOne(g, m.Directions)
			m.Legs[p] = []plan.Legs{{Legs: []geom.Leg{{Toward: first, Distance: 9}, {Toward: last, Distance: math.Inf(1)}}}}
			for range g.few(2) {
				if q := g.IntN(n); q != p && m.Measured[q] {
					m.Legs[p][0].InTheWay = insert(m.Legs[p][0].InTheWay, int32(q))
				}
			}
		}
		for d := range m.Directions {
			if past := m.InTheWay[d][p]; len(past) > 0 && g.chance(.15) {
				m.Undercuts[p] = append(m.Undercuts[p], plan.Undercut{Direction: d, Width: .3, Past: past[:1+g.IntN(len(past))]})
			}
		}
	}
	return m
}

// block puts a number of pieces in the way of others, most of them either way
// round, as real ones are.
func (g *draftGenerator) block(m *plan.Geometry, times int) {
	for range times {
		p, q, d := g.IntN(len(g.owner)), g.IntN(len(g.owner)), g.IntN(len(m.Directions))
		if p == q || !m.Measured[p] || !m.Measured[q] || g.joined(p, q) && g.chance(.7) {
			continue
		}
		m.InTheWay[d][p] = insert(m.InTheWay[d][p], int32(q))
		if g.chance(.8) {
			m.InTheWay[d^1][q] = insert(m.InTheWay[d^1][q], int32(p))
		}
	}
}

// joined tells whether a join names both: what a seat itself keeps out is soon told.
func (g *draftGenerator) joined(p, q int) bool {
	return slices.ContainsFunc(g.joins, func(j draftJoin) bool {
		named := slices.Concat(j.pieces, j.to)
		return slices.Contains(named, p) && slices.Contains(named, q)
	})
}

// insert keeps the list in order, each once.
func insert(list []int32, q int32) []int32 {
	list = append(slices.Clone(list), q)
	slices.Sort(list)
	return slices.Compact(list)
}

// clearWay takes out of the way what one order of the kit, if it has any, would meet.
func (g *draftGenerator) clearWay(d travelDraft) {
	o := newTravelOracle(d)
	o.without = noTravel
	if !o.solve() {
		return
	}
	ends := o.finishable()
	for done := stepSet(0); done != o.all(); {
		step := g.IntN(o.steps)
		if done.has(step) || !ends[done|1<<step] || !o.can(step, done) {
			continue
		}
		if step < len(o.joins) {
			g.clearStep(o, step, done)
		}
		done |= 1 << step
	}
}

func (g *draftGenerator) clearStep(o *travelOracle, step int, done stepSet) {
	moved, seats := o.joins[step].pieces, o.joins[step].to
	if seats == nil {
		moved, seats = moved[1:], moved[:1]
	}
	for _, p := range moved {
		d := g.IntN(len(o.g.Directions))
		if o.leaving[step] >= 0 {
			d = o.leaving[step]
		}
		for _, m := range o.groupOf(p, done) {
			o.g.InTheWay[d][m] = slices.DeleteFunc(slices.Clone(o.g.InTheWay[d][m]), func(q int32) bool {
				return o.inOneGroup(done, int(q), seats[0])
			})
		}
	}
}

// text writes the kit file, with the directions.
func (d travelDraft) text() string {
	head, rest, _ := strings.Cut(d.draft.text(), "joins:\n")
	lines := strings.SplitAfter(rest, "\n")
	for join, leaving := range d.leaving {
		if leaving >= 0 {
			v := d.g.Directions[leaving]
			lines[join] = strings.Replace(lines[join], "}", fmt.Sprintf(", toward: [%g, %g, %g]}", -5*v[0], -5*v[1], -5*v[2]), 1)
		}
	}
	return head + "joins:\n" + strings.Join(lines, "")
}

// relations words the measurements.
func (d travelDraft) relations() string {
	b := &strings.Builder{}
	names := func(list []int32) (out []string) {
		for _, q := range list {
			out = append(out, d.pieceID(int(q)))
		}
		return out
	}
	for p := range d.owner {
		fmt.Fprintf(b, "%s measured: %v, size %v\n", d.pieceID(p), d.g.Measured[p], d.g.Sizes[p])
		for i, v := range d.g.Directions {
			if list := d.g.InTheWay[i][p]; len(list) > 0 {
				fmt.Fprintf(b, "  leaving %v it meets %v\n", v, names(list))
			}
		}
		for _, l := range d.g.Legs[p] {
			fmt.Fprintf(b, "  leaving by legs it meets %v\n", names(l.InTheWay))
		}
		for _, u := range d.g.Undercuts[p] {
			fmt.Fprintf(b, "  leaving %v past undercuts of %v\n", d.g.Directions[u.Direction], names(u.Past))
		}
	}
	return b.String()
}

// repaired carries a repair out; kind is empty if it is of a kind that is not.
func (d travelDraft) repaired(text string) (mended travelDraft, kind string) {
	mended = d.copied()
	var step int
	if _, at, ok := strings.Cut(text, "random.yaml:"); ok {
		line, _, _ := strings.Cut(at, ":")
		n, _ := strconv.Atoi(line)
		step = d.stepAt(n)
	}
	word, rest, _ := strings.Cut(text, " ")
	switch {
	case word == "drop":
		name := strings.Split(rest, `"`)[1]
		o := mended.order(step)
		list := &o.after
		if strings.Contains(rest, "from before") {
			list = &o.before
		}
		i := slices.Index(*list, name)
		*list = slices.Delete(*list, i, i+1)
		return mended, "drop"
	case word == "build" && strings.Contains(text, "bench: true"):
		mended.joins[step].bench = true
		return mended, "bench"
	case word == "let":
		for i, v := range d.g.Directions {
			if strings.Contains(rest, "toward "+english.Direction(v)+", at") {
				mended.leaving[step] = i ^ 1
			}
		}
		return mended, "let travel"
	case word == "fit" && !strings.Contains(text, "toward"):
		_, onto, _ := strings.Cut(rest, " to ")
		mended.joins[step].to = d.piecesOf(strings.Fields(onto)[0])
		return mended, "fit to another"
	}
	return d, ""
}

func (d travelDraft) copied() travelDraft {
	c := *d.draft
	c.joins, c.wires, c.tasks = slices.Clone(d.joins), slices.Clone(d.wires), slices.Clone(d.tasks)
	mended := travelDraft{&c, d.g, slices.Clone(d.leaving)}
	for s := range len(c.joins) + len(c.wires) + len(c.tasks) {
		o := c.order(s)
		o.after, o.before = slices.Clone(o.after), slices.Clone(o.before)
	}
	return mended
}

// stepAt finds the step that stands in a line of the file.
func (d travelDraft) stepAt(line int) int {
	step, counts := 0, false
	for i, text := range strings.Split(d.text(), "\n") {
		if !strings.HasPrefix(text, " ") {
			counts = text == "joins:" || text == "wires:" || text == "tasks:"
			continue
		}
		if i+1 == line {
			return step
		}
		if counts {
			step++
		}
	}
	panic(fmt.Sprint("no step in line ", line))
}
