package plan_test

import (
	"math"
	"math/bits"
	"slices"
	"strings"

	"dryfit/plan"
)

// The oracle says by brute force what package plan must find out by thinking.
// It builds the model forward: its state is the set of steps done so far, a step
// can be done or not in a state, and all states are tried. What is in the way is
// looked up in the groups of that state, not in sets of joins. Only the steps
// left over in an unsolvable kit are found by taking apart, and that too by
// trying every possible way.
type oracle struct {
	*draft
	steps    int
	tied     [][]int8                        // set of steps done -> piece -> its group
	needs    []stepSet                       // step -> steps that come before it
	together [][]piecePair                   // step -> pieces that must be in one group before it
	entries  [][]oracleEntry                 // step -> what must get in with it
	within   []map[int]bool                  // piece -> the spaces it is in
	barred   []string                        // what no opening of some space lets in
	allowed  plan.Relaxation                 // of all that follows
	travels  func(step int, on stepSet) bool // whether what a step moves gets to its seat when those are on
	doable   []bool                          // set of steps done -> can be reached
	endable  []bool                          // set of steps done -> can be finished
}

type stepSet uint16

type piecePair [2]int

func (s stepSet) has(step int) bool { return s>>step&1 != 0 }

// An oracleEntry is a piece or a wire that must get into one space.
type oracleEntry struct {
	piece int   // -1 for a wire
	seats []int // the pieces it is seen from
	doors []oracleDoor
}

type oracleDoor struct {
	closer int // -1 if never covered
	pass   oraclePass
}

type oraclePass int

const (
	passNever oraclePass = iota
	passTurned
	passStraight
)

var oracleAllowances = []plan.Relaxation{{}, {Reopen: true}, {Turning: true}, {Turning: true, Reopen: true}}

func newOracle(d *draft) *oracle {
	o := &oracle{draft: d, steps: len(d.joins) + len(d.wires) + len(d.tasks)}
	o.travels = func(int, stepSet) bool { return true }
	o.needs = make([]stepSet, o.steps)
	o.together = make([][]piecePair, o.steps)
	o.entries = make([][]oracleEntry, o.steps)
	o.buildGroups()
	o.placeInSpaces()
	o.addStatedOrder()
	o.addCoats()
	o.addSeats()
	o.addEntries()
	return o
}

func (o *oracle) all() stepSet { return 1<<o.steps - 1 }

// buildGroups unites, for each set of joins done, what they tie together.
func (o *oracle) buildGroups() {
	alone := make([]int8, len(o.owner))
	for p := range alone {
		alone[p] = int8(p)
	}
	o.tied = append(o.tied, alone)
	for done := stepSet(1); done <= o.all(); done++ {
		last := bits.Len16(uint16(done)) - 1
		group := slices.Clone(o.tied[done&^(1<<last)])
		for _, tie := range o.ties(last) {
			uniteGroups(group, group[tie[0]], group[tie[1]])
		}
		o.tied = append(o.tied, group)
	}
}

func uniteGroups(group []int8, a, b int8) {
	for p := range group {
		if group[p] == a {
			group[p] = b
		}
	}
}

// ties lists the pairs of pieces a step ties together.
func (o *oracle) ties(step int) (ties []piecePair) {
	if step >= len(o.joins) {
		return nil
	}
	j := o.joins[step]
	if j.to == nil {
		return []piecePair{{j.pieces[0], j.pieces[1]}}
	}
	for _, p := range j.pieces {
		ties = append(ties, piecePair{p, j.to[0]})
	}
	return ties
}

func (o *oracle) inOneGroup(done stepSet, a, b int) bool { return o.tied[done][a] == o.tied[done][b] }

// tiesTogether tells whether the two are one group in the end, and not without the step.
func (o *oracle) tiesTogether(step, a, b int) bool {
	return o.inOneGroup(o.all(), a, b) && !o.inOneGroup(o.all()&^(1<<step), a, b)
}

// placeInSpaces finds the spaces each piece is in, those around included.
func (o *oracle) placeInSpaces() {
	o.within = make([]map[int]bool, len(o.owner))
	for p := range o.owner {
		o.within[p] = map[int]bool{}
	}
	for i, s := range o.spaces {
		for _, name := range s.holds {
			for _, p := range o.piecesOf(name) {
				o.addAround(o.within[p], i)
			}
		}
	}
}

func (o *oracle) addAround(in map[int]bool, space int) {
	for ; space >= 0; space = o.spaces[space].inside {
		in[space] = true
	}
}

func (o *oracle) need(before, after int) { o.needs[after] |= 1 << before }

func (o *oracle) addStatedOrder() {
	for s := range o.steps {
		for _, name := range o.order(s).after {
			for _, t := range o.named(name) {
				o.need(t, s)
			}
		}
		for _, name := range o.order(s).before {
			for _, t := range o.named(name) {
				o.need(s, t)
			}
		}
	}
}

func (o *oracle) addCoats() {
	for i, t := range o.tasks {
		if !t.coat {
			continue
		}
		coat := len(o.joins) + len(o.wires) + i
		for p, part := range o.owner {
			switch o.parts[part].paint {
			case "outside":
				for _, s := range o.standing(p) {
					o.need(s, coat)
				}
			case "off-model":
				if s := o.fitting(p); s >= 0 {
					o.need(coat, s)
				}
			}
		}
	}
}

// addSeats asks that what a step stands on is in place, and in one group where
// there are several. A closing is what makes one group of its two.
func (o *oracle) addSeats() {
	for s := range o.steps {
		on := o.standsOn(s)
		for i, p := range on {
			if f := o.fitting(p); f >= 0 && !o.joins[f].bench {
				o.need(f, s)
			}
			closing := s < len(o.joins) && o.joins[s].to == nil
			if i > 0 && !closing && o.inOneGroup(o.all(), on[0], p) {
				o.together[s] = append(o.together[s], piecePair{on[0], p})
			}
		}
	}
}

func (o *oracle) opensAgain(join int) bool {
	j := o.joins[join]
	if j.opens != "" {
		return j.opens == "true"
	}
	for _, f := range draftFixings {
		if f.id == j.with {
			return f.opens
		}
	}
	panic("no such fixing: " + j.with)
}

// addEntries finds what must get into which space with each step. A piece that
// nothing fits is the base: the space is built round it.
func (o *oracle) addEntries() {
	for s, j := range o.joins {
		for _, p := range j.pieces {
			for space := range o.spaces {
				if j.to != nil && o.within[p][space] {
					size := o.parts[o.owner[p]].size
					if j.size != nil {
						size = j.size
					}
					o.addEntry(s, space, oracleEntry{piece: p, seats: j.to[:1]}, size)
				}
			}
		}
	}
	for i, w := range o.wires {
		in := map[int]bool{}
		for _, space := range w.runsIn {
			o.addAround(in, space)
		}
		for _, p := range append(slices.Clone(w.through), w.from, w.to) {
			for space := range o.spaces {
				if o.within[p][space] {
					in[space] = true
				}
			}
		}
		var size []float64
		if w.across > 0 {
			size = []float64{w.across, w.across, w.across}
		}
		for space := range in {
			o.addEntry(len(o.joins)+i, space, oracleEntry{piece: -1, seats: o.insideOf(w, space)}, size)
		}
	}
}

// insideOf tells what holds a wire inside a space: what of its run and ends is in there,
// or else what of them does not close it, or else all of them.
func (o *oracle) insideOf(w draftWire, space int) []int {
	run := append(slices.Clone(w.through), w.from, w.to)
	shuts := func(p int) bool {
		return slices.ContainsFunc(o.spaces[space].shut, func(c draftCloser) bool { return slices.Contains(o.piecesOf(c.by), p) })
	}
	inside := slices.DeleteFunc(slices.Clone(run), func(p int) bool { return !o.within[p][space] })
	beside := slices.DeleteFunc(slices.Clone(run), shuts)
	for _, list := range [][]int{inside, beside} {
		if len(list) > 0 {
			return list
		}
	}
	return run
}

func (o *oracle) addEntry(step, space int, e oracleEntry, size []float64) {
	best := passNever
	for _, c := range o.spaces[space].shut {
		pass := o.passing(size, c)
		best = max(best, pass)
		if c.by == "" {
			e.doors = append(e.doors, oracleDoor{-1, pass})
		}
		for _, closer := range o.piecesOf(c.by) {
			e.doors = append(e.doors, oracleDoor{closer, pass})
		}
	}
	if best == passNever {
		o.barred = append(o.barred, o.entryID(step, e)) // a fault of its own, which no order fixes
		return
	}
	o.entries[step] = append(o.entries[step], e)
}

// passing tells how something of a size gets through an opening.
func (o *oracle) passing(size []float64, c draftCloser) oraclePass {
	if size == nil || c.opening == nil {
		return passStraight
	}
	sides := slices.Clone(size)
	for i := range sides {
		sides[i] += o.clearance
	}
	if axis := strings.Index("xyz", c.facing); c.facing != "" {
		across := slices.Delete(slices.Clone(sides), axis, axis+1)
		if across[0] <= c.opening[0] && across[1] <= c.opening[1] {
			return passStraight
		}
	}
	slices.Sort(sides)
	switch {
	case !passesTurned(sides[0], sides[1], c.opening[0], c.opening[1]):
		return passNever
	case c.facing == "":
		return passStraight
	}
	return passTurned
}

// passesTurned tells whether a rectangle with the sides q <= p passes a by b at
// some angle. Turned by t it takes up p cos t + q sin t one way, which is
// r cos(t-f) with r its diagonal and f the angle of that, and r sin(t+f) the
// other way. Each has a range of t from 0 and one up to the right angle.
func passesTurned(q, p, a, b float64) bool {
	r, f := math.Hypot(p, q), math.Atan2(q, p)
	const right, touch = math.Pi / 2, 1e-9
	// where r cos(t-f) <= a: up to f-g, or from f+g on
	g := math.Acos(min(1, a/r))
	// where r sin(t+f) <= b: up to h-f, or from pi-h-f on
	h := math.Asin(min(1, b/r))
	first := [2][2]float64{{0, f - g}, {f + g, right}}
	second := [2][2]float64{{0, h - f}, {math.Pi - h - f, right}}
	for _, u := range first {
		for _, v := range second {
			if max(u[0], v[0]) <= min(u[1], v[1])+touch {
				return true
			}
		}
	}
	return false
}
