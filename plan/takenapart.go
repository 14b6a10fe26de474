package plan

import "slices"

// TakenApart marks the joins that can be undone on the finished model, one after the other,
// but for that of a step: they open, nothing that stays is fixed across them, and what they
// fix comes off past all that stays, with all that is on it. Wires have slack and hold
// nothing.
func (r *Constraints) TakenApart(but int) []bool {
	m := r.finished()
	var open []int
	for _, j := range slices.Backward(r.Kit.Joins) { // what is made last mostly comes off first
		if r.Change.IsOpen(j) && r.number.Join[j] != but {
			open = append(open, r.number.Join[j])
		}
	}
	return r.only(m.comeOff(open, true))
}

// ComesOut reports whether what a step put on comes out of the finished model, with all
// that is on it, once its own join and some others are undone.
func (r *Constraints) ComesOut(step int, undone []bool) bool {
	return r.opened(undone, step).comesBy(step)
}

// opened is the finished model with some joins undone.
func (r *Constraints) opened(undone []bool, off ...int) *moment {
	for v, is := range undone {
		if is {
			off = append(off, v)
		}
	}
	return r.finished().with(false, off...)
}

// finished is the finished model without its wires.
func (r *Constraints) finished() *moment {
	on := make([]bool, len(r.Steps))
	for v, s := range r.Steps {
		on[v] = s.Wire == nil
	}
	return r.moment(on, true)
}
