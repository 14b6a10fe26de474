// Package balance computes what a kit weighs, where it balances as it grows, and
// how much ballast it needs and where that goes.
//
// Masses are g, lengths mm, volumes mm3 or, where the name says so, cm3, densities
// g/cm3. Wires, glue, paint and supports are not counted.
package balance

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// Result is what follows from the weights of a kit.
type Result struct {
	Report   *plan.Project
	Of       *kits.Balance
	Sequence *plan.Sequence // proven, or as the file suggests
	Weights  []Weight       // by the numbers of the pieces
	Stages   []Stage

	Known     bool    // where the model balances
	Empty     Point   // the finished model without its ballast
	Target    float64 // mm; it must balance here or on the ballast's side
	BallastAt float64 // mm
	Placed    bool    // the position of the ballast is known
	Needed    float64 // g; 0 if none is
	Possible  bool    // ballast there is enough
	Solid     float64 // g that would be needed if all parts were printed solid
	Stated    float64 // g of ballast, all copies; 0 if not stated
	Finished  Point   // with the stated ballast, or with what is needed
	Volume    float64 // cm3 that the ballast takes
	In        int     // step that puts the ballast in; -1 if none does
	Before    int     // step before which it must be in, since that step shuts it in for good; -1 if none
}

// Of computes the balance of a kit, which must have one.
func Of(rep *plan.Project) *Result {
	k := rep.Kit
	b := k.Balance
	r := &Result{Report: rep, Of: b, Sequence: rep.Draft(), Weights: Weigh(rep, k.FillOf), In: -1, Before: -1, Target: b.Support}
	r.Stages = stages(r.Sequence, r.Weights, b.Along)
	r.Empty = r.without(r.Weights)
	r.Known = r.Empty.Mass > 0
	if b.Weighed != nil {
		r.Known, r.Empty = true, Point{b.Weighed.Mass, b.Weighed.At}
	}
	r.Finished = r.Empty
	if b.Ballast != nil {
		r.ballast()
	}
	return r
}

// without is the finished model without its ballast, by the weights of its pieces.
func (r *Result) without(weights []Weight) (sum Point) {
	for p, pc := range r.Report.Kit.Pieces {
		if pc.Part != r.Of.Ballast {
			sum = sum.With(weights[p].point(r.Of.Along))
		}
	}
	return sum
}

func (r *Result) ballast() {
	b := r.Of
	pieces := r.Report.Kit.Copies(b.Ballast)
	r.Stated = b.Ballast.Mass * float64(len(pieces))
	r.place(pieces)
	near := false // the ballast is nearer the support than the model is to balance
	if r.Placed {
		side := 1.0 // of the support that the ballast is on
		if r.BallastAt < b.Support {
			side = -1
		}
		r.Target += side * b.Margin
		near = side*(r.BallastAt-r.Target) < leastArm
	}
	r.Possible = true
	if r.Known && r.Placed {
		r.Needed, r.Possible = Needed(r.Empty.Mass, r.Empty.At, r.Target, r.BallastAt)
		if near {
			r.Needed, r.Possible = 0, r.Off(r.Empty.At) <= -b.Margin
		}
		r.Solid = r.Needed
		if b.Weighed == nil && !near {
			solid := r.without(Weigh(r.Report, func(*kits.Part) float64 { return 1 }))
			r.Solid, _ = Needed(solid.Mass, solid.At, r.Target, r.BallastAt)
		}
		r.Finished = r.Empty.With(Point{r.mass(), r.BallastAt})
	}
	r.Volume = r.mass() / b.Pack
	r.when(pieces)
}

// mass is the ballast that goes in: what is stated or, failing that, what is
// needed.
func (r *Result) mass() float64 {
	if r.Stated > 0 {
		return r.Stated
	}
	return r.Needed
}

// place finds where the ballast is: as stated, or the mean of its copies.
func (r *Result) place(pieces []int) {
	if at := r.Of.At; at != nil {
		r.BallastAt, r.Placed = *at, true
		return
	}
	for _, p := range pieces {
		if r.Weights[p].Place == Nowhere {
			return
		}
		r.BallastAt += r.Weights[p].Centre[r.Of.Along] / float64(len(pieces))
	}
	r.Placed = len(pieces) > 0
}

// when finds the step that puts the ballast in, and the first that shuts out the
// ballast, or what it is built on, for good.
func (r *Result) when(pieces []int) {
	q := r.Sequence
	if j := r.Report.Kit.Fitted(pieces[0]); j != nil {
		r.In = r.Report.Constraints.StepOf(j)
	}
	units := r.units(pieces)
	for _, v := range q.Order {
		for _, c := range q.LastCall(v) {
			if c.What == progress.TickFit && slices.Contains(units, c.Piece) {
				r.Before = v
				return
			}
		}
	}
}

// units are the ballast and the bench units with which it goes in.
func (r *Result) units(pieces []int) []int {
	k := r.Report.Kit
	list := slices.Clone(pieces)
	at := pieces[0]
	for len(list) < maxChain {
		j := k.Fitted(at)
		if j == nil || j.Onto == nil {
			break
		}
		at = j.Onto[0]
		if on := k.Fitted(at); on == nil || !on.Bench {
			break
		}
		list = append(list, at)
	}
	return list
}
