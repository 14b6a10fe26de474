package plan_test

import (
	"fmt"
	"slices"
)

func (g *draftGenerator) addTasks(n int) {
	for i := range n {
		t := draftTask{coat: g.chance(.5)}
		t.step = fmt.Sprint("task-", i+1)
		g.tasks = append(g.tasks, t)
	}
}

func (g *draftGenerator) addSpaces() {
	for i := range 1 + g.few(3) {
		s := draftSpace{id: "space-" + string(rune('a'+i)), inside: -1}
		if i > 0 && g.chance(.2+g.inside) {
			s.inside = g.IntN(i)
		}
		for range 1 + g.few(2) {
			s.shut = append(s.shut, g.newCloser(i, len(s.shut)))
		}
		s.holds = g.newHolds(s.shut)
		g.spaces = append(g.spaces, s)
	}
	// A space may stand above the one it is within.
	if n := len(g.spaces); n > 1 && g.chance(.3) && g.spaces[n-1].inside < 0 {
		g.swapSpaces(0, n-1)
	}
	for w := range g.wires {
		for i, s := range g.spaces {
			if g.chance(.35) && g.inTime(len(g.joins)+w, s.shut) {
				g.wires[w].runsIn = append(g.wires[w].runsIn, i)
			}
		}
	}
}

func (g *draftGenerator) swapSpaces(a, b int) {
	g.spaces[a], g.spaces[b] = g.spaces[b], g.spaces[a]
	for i := range g.spaces {
		switch g.spaces[i].inside {
		case a:
			g.spaces[i].inside = b
		case b:
			g.spaces[i].inside = a
		}
	}
}

func (g *draftGenerator) newCloser(space, nth int) draftCloser {
	c := draftCloser{by: g.pieceID(g.IntN(len(g.owner)))}
	if g.chance(.1) {
		c.by = g.parts[g.owner[g.IntN(len(g.owner))]].id
	}
	if g.chance(.3 + .6*g.opening) {
		c.opening = []float64{g.side(4, 34), g.side(4, 34)}
		if g.chance(.3 + .6*g.facing) {
			c.facing = pickOne(g, []string{"x", "y", "z"})
		}
		if g.chance(.1) {
			c.by = ""
		}
		if g.chance(.2) {
			c.name = fmt.Sprintf("door-%d-%d", space, nth)
		}
	}
	return c
}

// inTime tells, of most steps, whether they are scheduled before something that
// may shut the space: otherwise too few kits could be built.
func (g *draftGenerator) inTime(step int, shut []draftCloser) bool {
	return g.chance(.2+g.wild) || slices.ContainsFunc(shut, func(c draftCloser) bool {
		return slices.ContainsFunc(g.piecesOf(c.by), func(p int) bool {
			return slices.ContainsFunc(g.standing(p), func(s int) bool { return step < 0 || g.when[s] > g.when[step] })
		})
	})
}

// newHolds chooses what a space holds: parts with all their copies, or single
// pieces, each piece once.
func (g *draftGenerator) newHolds(shut []draftCloser) (holds []string) {
	held := make([]bool, len(g.owner))
	for range 1 + g.few(3) {
		part := &g.parts[g.owner[g.IntN(len(g.owner))]]
		if slices.ContainsFunc(part.pieces, func(p int) bool { return held[p] }) {
			continue
		}
		pieces, id := part.pieces, part.id
		if len(pieces) > 1 && g.chance(.4) {
			one := pickOne(g, pieces)
			pieces, id = []int{one}, g.pieceID(one)
		}
		if slices.ContainsFunc(pieces, func(p int) bool { return !g.inTime(g.fitting(p), shut) }) {
			continue
		}
		for _, p := range pieces {
			held[p] = true
		}
		holds = append(holds, id)
	}
	return holds
}

func (g *draftGenerator) addWires(n int) {
	tied := func() int { // a wire to a piece that no join ties is outside the comparison
		for {
			if p := g.IntN(len(g.owner)); !g.isLoose(p) {
				return p
			}
		}
	}
	for i := range n {
		w := draftWire{id: fmt.Sprint("lead-", i+1), from: tied(), to: tied()}
		for range g.few(2) {
			w.through = append(w.through, tied())
		}
		if g.chance(.6) {
			w.across = g.side(1, 12)
		}
		g.wires = append(g.wires, w)
	}
}

// isLoose tells whether no join names the piece.
func (d *draft) isLoose(piece int) bool {
	return !slices.ContainsFunc(d.joins, func(j draftJoin) bool {
		return slices.Contains(j.pieces, piece) || slices.Contains(j.to, piece)
	})
}

// schedule draws a random order in which each piece follows what it hangs on.
// Most of what is asked beyond that agrees with it; otherwise nearly every kit
// would be a cycle.
func (g *draftGenerator) schedule() {
	n := len(g.joins) + len(g.wires) + len(g.tasks)
	g.when = slices.Repeat([]int{-1}, n)
	for place := 0; place < n; {
		if s := g.IntN(n); g.when[s] < 0 && g.seated(s) {
			g.when[s] = place
			place++
		}
	}
}

// seated tells whether what the step stands on has its place in the schedule.
func (g *draftGenerator) seated(step int) bool {
	for _, p := range g.standsOn(step) {
		if j := g.fitting(p); j >= 0 && j != step && g.when[j] < 0 {
			return false
		}
	}
	return true
}

func (d *draft) standsOn(step int) []int {
	if w := step - len(d.joins); w >= 0 && w < len(d.wires) {
		return append([]int{d.wires[w].from, d.wires[w].to}, d.wires[w].through...)
	} else if w >= 0 {
		return nil
	}
	if j := d.joins[step]; j.to == nil {
		return j.pieces
	}
	return d.joins[step].to
}

// fitting is the step that fits a piece, -1 for a base.
func (d *draft) fitting(piece int) int {
	return slices.IndexFunc(d.joins, func(j draftJoin) bool { return j.to != nil && slices.Contains(j.pieces, piece) })
}

// standing lists the steps after which a piece stands in the model: the one that
// fits it, or for a base piece the closings that name it.
func (d *draft) standing(piece int) (steps []int) {
	if s := d.fitting(piece); s >= 0 {
		return []int{s}
	}
	for s, j := range d.joins {
		if j.to == nil && slices.Contains(j.pieces, piece) {
			steps = append(steps, s)
		}
	}
	return steps
}

// addSeveral lets some fits go to several pieces. These make no tie.
func (g *draftGenerator) addSeveral() {
	for s := range g.joins {
		j := &g.joins[s]
		for j.to != nil && len(j.to) < 3 && g.chance(.1+g.several) {
			p := g.IntN(len(g.owner))
			if copies := g.parts[g.owner[j.to[0]]].pieces; g.chance(.2) {
				p = copies[len(copies)-1]
			}
			f := g.fitting(p)
			if g.isLoose(p) || slices.Contains(j.to, p) || slices.Contains(j.pieces, p) || f == s || f >= 0 && g.when[f] > g.when[s] && !g.chance(.05+g.wild) {
				break
			}
			j.to = append(j.to, p)
		}
	}
}

// addOrder adds what the designer asks beyond the ties.
func (g *draftGenerator) addOrder() {
	names := g.names()
	for s, n := 0, len(g.when); s < n; s++ {
		o := g.order(s)
		for g.chance(.15 + g.asked) {
			name := pickOne(g, names)
			steps := g.named(name)
			wild := g.chance(.2 * g.wild)
			switch {
			case wild && g.chance(.5), !wild && g.allWhen(steps, func(w int) bool { return w < g.when[s] }):
				o.after = append(o.after, name)
			case wild, g.allWhen(steps, func(w int) bool { return w > g.when[s] }):
				o.before = append(o.before, name)
			}
		}
		slices.Sort(o.after)
		slices.Sort(o.before)
		o.after, o.before = slices.Compact(o.after), slices.Compact(o.before)
	}
}

func (g *draftGenerator) allWhen(steps []int, ok func(when int) bool) bool {
	return !slices.ContainsFunc(steps, func(s int) bool { return !ok(g.when[s]) })
}

func (d *draft) order(step int) *draftOrder {
	if step < len(d.joins) {
		return &d.joins[step].draftOrder
	}
	step -= len(d.joins)
	if step < len(d.wires) {
		return &d.wires[step].draftOrder
	}
	return &d.tasks[step-len(d.wires)].draftOrder
}

// names lists what after and before may name.
func (d *draft) names() (names []string) {
	for s, n := 0, len(d.joins)+len(d.wires)+len(d.tasks); s < n; s++ {
		if name := d.order(s).step; name != "" {
			names = append(names, name)
		}
	}
	for _, w := range d.wires {
		names = append(names, w.id)
	}
	for _, p := range d.parts {
		if len(p.pieces) > 0 && d.named(p.id) != nil {
			names = append(names, p.id)
		}
		for _, piece := range p.pieces {
			if d.fitting(piece) >= 0 {
				names = append(names, d.pieceID(piece))
			}
		}
	}
	return names
}

// named lists the steps that a name in after or before means, nil if it is a
// piece, or one of several copies is, that no step fits.
func (d *draft) named(name string) (steps []int) {
	for s, n := 0, len(d.joins)+len(d.wires)+len(d.tasks); s < n; s++ {
		if d.order(s).step == name {
			return []int{s}
		}
	}
	for i, w := range d.wires {
		if w.id == name {
			return []int{len(d.joins) + i}
		}
	}
	for _, piece := range d.piecesOf(name) {
		s := d.fitting(piece)
		if s < 0 {
			return nil
		}
		steps = append(steps, s)
	}
	return steps
}

// piecesOf lists the pieces a name means: one, or all copies of a part.
func (d *draft) piecesOf(name string) []int {
	for _, p := range d.parts {
		if p.id == name {
			return p.pieces
		}
		for _, piece := range p.pieces {
			if d.pieceID(piece) == name {
				return []int{piece}
			}
		}
	}
	return nil
}

func (d *draft) pieceID(piece int) string {
	p := d.parts[d.owner[piece]]
	if len(p.pieces) == 1 {
		return p.id
	}
	return fmt.Sprint(p.id, ".", slices.Index(p.pieces, piece)+1)
}
