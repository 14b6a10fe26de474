package plan

import "slices"

// detours finds what is taken off for each step of an order that cannot be done otherwise.
// Such a step then comes before all that follows it in the order, in any other order too,
// so that it can be done in the same way.
func (s *Solution) detours(order []int) map[int]*Detour {
	r := s.Constraints
	found := map[int]*Detour{}
	if !s.Relaxation.Reopen {
		return found
	}
	if s.Narrow == s.System {
		s.Narrow = r.System(s.Relaxed) // the other keeps all valid orders
	}
	on := make([]bool, len(r.Steps))
	for i, v := range order {
		if r.doubtful(v, s.Relaxation) {
			if m := r.moment(on, s.Relaxation.Turning); !m.admits(v) {
				if d := m.detour(v); d != nil {
					d.Turns = s.Relaxation.Turning && !r.can(v, on, Relaxation{Reopen: true})
					found[v] = d
					for _, w := range order[i+1:] {
						s.Narrow.Need(v, w)
					}
				}
			}
		}
		on[v] = true
	}
	return found
}

// Detour is what is taken off for a step, and put back after it; nil for most steps.
func (q *Sequence) Detour(step int) *Detour { return q.detours[step] }

// Act is one entry of a sequence as a builder follows it: a step or, with Off or Back, a
// join that is undone for the step that follows, or made again after it.
type Act struct {
	Step      int
	Off, Back bool
	For       int // the step that it is undone for
}

// Acts lists all that is done in turn.
func (q *Sequence) Acts() []Act {
	var list []Act
	for _, v := range q.Order {
		list = append(list, q.ActsFor(v)...)
	}
	return list
}

// ActsFor lists a step with what is taken off for it and put back.
func (q *Sequence) ActsFor(step int) []Act { return q.detours[step].acts(step) }

// ActsFor lists a step that can be done now with what is taken off for it and put back.
func (x *Remaining) ActsFor(step int) []Act { return x.detour(nil, step).acts(step) }

func (d *Detour) acts(step int) []Act {
	if d == nil {
		return []Act{{Step: step, For: step}}
	}
	var list []Act
	for _, v := range d.Off {
		list = append(list, Act{Step: v, Off: true, For: step})
	}
	list = append(list, Act{Step: step, For: step})
	for _, v := range d.Back {
		list = append(list, Act{Step: v, Back: true, For: step})
	}
	return list
}

// Reopened lists the steps for which something is taken off, in order.
func (q *Sequence) Reopened() []int {
	return slices.DeleteFunc(slices.Clone(q.Order), func(v int) bool { return q.detours[v] == nil })
}

// detour is what is taken off for a step once some others are done as well.
func (x *Remaining) detour(more []int, step int) *Detour {
	r := x.q.Solution.Constraints
	if !x.Relaxation.Reopen || !r.doubtful(step, x.Relaxation) {
		return nil
	}
	m := r.moment(x.Done, x.Relaxation.Turning).with(true, more...)
	if m.admits(step) {
		return nil
	}
	return m.detour(step)
}
