package plan_test

import (
	"fmt"
	"slices"

	"dryfit/plan"
)

// A travelOracle adds to the oracle that what a join moves must get to its seat: as
// a group, past what is in one group with the seat at that moment.
type travelOracle struct {
	*oracle
	g       *plan.Geometry
	leaving []int
	without travelFeature
}

// A travelFeature is left out to see whether a kit depends on it.
type travelFeature string

const (
	nothingLess travelFeature = ""
	noTravel    travelFeature = "travel"
	noUnits     travelFeature = "units that move as one"
	noToward    travelFeature = "a stated direction"
	noLegs      travelFeature = "ways of several legs"
	noUndercuts travelFeature = "undercuts"
	noClosings  travelFeature = "the travel of closings"
	noStanding  travelFeature = "what stands on the seat"
)

var travelFeatures = []travelFeature{noTravel, noUnits, noToward, noLegs, noUndercuts, noClosings, noStanding}

func newTravelOracle(d travelDraft) *travelOracle {
	sized := *d.draft
	sized.parts = slices.Clone(d.parts)
	for i, p := range sized.parts {
		if p.size == nil && len(p.pieces) > 0 && d.g.Measured[p.pieces[0]] {
			size := d.g.Sizes[p.pieces[0]]
			sized.parts[i].size = size[:]
		}
	}
	o := &travelOracle{oracle: newOracle(&sized), g: d.g, leaving: d.leaving}
	o.travels = o.travel
	return o
}

// travel tells whether all that a step moves gets to its seat when those others are on:
// copies one after the other. What the bare seat itself keeps out is a fault of its own,
// which no order fixes.
func (o *travelOracle) travel(step int, on stepSet) bool {
	moves := slices.DeleteFunc(o.moves(step), func(m piecePair) bool { return o.keptOut(step, m) })
	return o.oneByOne(step, moves, on)
}

func (o *travelOracle) oneByOne(step int, moves []piecePair, on stepSet) bool {
	for i, m := range moves {
		rest := slices.Delete(slices.Clone(moves), i, i+1)
		fixed := o.groupOf(m[1], on)
		for _, other := range rest {
			fixed = append(fixed, o.groupOf(other[0], on)...)
		}
		if o.getsTo(step, m, o.groupOf(m[0], on), fixed) {
			return o.oneByOne(step, rest, on)
		}
	}
	return len(moves) == 0
}

// moves lists the pieces a step moves and what each goes to.
func (o *travelOracle) moves(step int) (moves []piecePair) {
	if step >= len(o.joins) || o.without == noTravel {
		return nil
	}
	j := o.joins[step]
	if j.to == nil {
		return []piecePair{{j.pieces[1], j.pieces[0]}}
	}
	for _, p := range j.pieces {
		moves = append(moves, piecePair{p, j.to[0]})
	}
	return moves
}

func (o *travelOracle) keptOut(step int, m piecePair) bool {
	return !o.getsTo(step, m, []int{m[0]}, []int{m[1]})
}

// outs lists the moves that the bare seat keeps out, by step and piece.
func (o *travelOracle) outs() (outs []string) {
	for step := range o.steps {
		for _, m := range o.moves(step) {
			if o.keptOut(step, m) {
				outs = append(outs, fmt.Sprint(step, " ", o.pieceID(m[0])))
			}
		}
	}
	return sortedOnce(outs)
}

// getsTo tells whether a piece, with the unit joined to it, gets to its seat when
// the fixed pieces are joined to that. A way of several legs is known for the piece
// alone, so it is none for what has something on it.
func (o *travelOracle) getsTo(step int, m piecePair, unit, fixed []int) bool {
	closing := o.joins[step].to == nil
	if o.without == noUnits {
		unit = []int{m[0]}
	}
	if o.without == noStanding {
		fixed = []int{m[1]}
	}
	if o.without == noClosings && closing {
		return true
	}
	for d := range o.g.Directions {
		if o.mayLeave(step, d) && !slices.ContainsFunc(unit, func(p int) bool { return o.hindered(o.inTheWay(p, d), unit, fixed) }) {
			return true
		}
	}
	alone := len(unit) == 1
	return alone && o.without != noLegs && slices.ContainsFunc(o.g.Legs[m[0]], func(l plan.Legs) bool {
		first := slices.Index(o.g.Directions, l.Legs[0].Toward)
		said := o.leaving[step] >= 0 && o.without != noToward
		return (!said || first == o.leaving[step]) && !o.hindered(l.InTheWay, unit, fixed)
	})
}

// hindered tells whether a moved piece meets a fixed one.
func (o *travelOracle) hindered(list []int32, unit, fixed []int) bool {
	return slices.ContainsFunc(list, func(q int32) bool {
		return slices.Contains(fixed, int(q)) && !slices.Contains(unit, int(q))
	})
}

func (o *travelOracle) groupOf(piece int, done stepSet) (group []int) {
	for p := range o.owner {
		if o.inOneGroup(done, p, piece) {
			group = append(group, p)
		}
	}
	return group
}

// mayLeave tells whether what a join moves may leave in a direction. Closing
// moves either half, so either sense of the stated direction will do.
func (o *travelOracle) mayLeave(step, d int) bool {
	said := o.leaving[step]
	return o.without == noToward || said < 0 || d == said || o.joins[step].to == nil && d == said^1
}

// inTheWay lists what keeps a piece from leaving in a direction; what it passes an
// undercut of does not.
func (o *travelOracle) inTheWay(p, d int) []int32 {
	return slices.DeleteFunc(slices.Clone(o.g.InTheWay[d][p]), func(q int32) bool {
		return o.without != noUndercuts && slices.ContainsFunc(o.g.Undercuts[p], func(u plan.Undercut) bool {
			return u.Direction == d && slices.Contains(u.Past, q)
		})
	})
}

// solve tries all orders under the allowances in turn.
func (o *travelOracle) solve() bool {
	return slices.ContainsFunc(oracleAllowances, func(a plan.Relaxation) bool {
		o.allowed = a
		return o.finishable()[0]
	})
}

// finishable tells of each set of steps done whether the rest can still be done.
func (o *travelOracle) finishable() []bool {
	ends := make([]bool, o.all()+1)
	ends[o.all()] = true
	for done := int(o.all()) - 1; done >= 0; done-- {
		for step := range o.steps {
			s := stepSet(done)
			ends[done] = ends[done] || !s.has(step) && ends[s|1<<step] && o.can(step, s)
		}
	}
	return ends
}

// follow builds in one order and returns the first place where it goes wrong.
func (o *travelOracle) follow(order []int) error {
	done := stepSet(0)
	for i, step := range order {
		if done.has(step) || !o.can(step, done) {
			return fmt.Errorf("step %d of the order, %s, cannot be done", i+1, o.stepName(step))
		}
		done |= 1 << step
	}
	if done != o.all() {
		return fmt.Errorf("the order has %d of %d steps", len(order), o.steps)
	}
	return nil
}

// stuck lists the steps that come off in no way of taking the model apart.
func (o *travelOracle) stuck() stepSet {
	left := make([]bool, o.all()+1)
	left[o.all()] = true
	never := o.all()
	for i := int(o.all()); i >= 0; i-- {
		if !left[i] {
			continue
		}
		rest := stepSet(i)
		never &= rest
		for step := range o.steps {
			if rest.has(step) && o.comesOff(step, rest) {
				left[rest&^(1<<step)] = true
			}
		}
	}
	return never
}
