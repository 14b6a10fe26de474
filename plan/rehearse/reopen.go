package rehearse

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// takeOff undoes a join for a while: what it fixes leaves its seat, with all that is
// joined to it, past all that stands.
func (m *model) takeOff(step int) *Failure {
	f := &Failure{Action: Action{Step: step, Off: true}, Piece: -1}
	switch j := m.steps[step].Join; {
	case j == nil || !j.Opens:
		f.Kind = Firm
		return f
	case !m.stands(step):
		f.Kind = Absent
		return f
	}
	after := m.clone()
	after.undo(step)
	if across := after.across(); len(across) > 0 {
		f.Kind, f.Steps = Held, across
		return f
	}
	if f := after.comesBy(step); f != nil {
		return f
	}
	*m = *after
	return nil
}

// putBack makes a join again that was undone for a while.
func (m *model) putBack(step int) *Failure {
	if f := m.comesBy(step); f != nil {
		return f
	}
	m.make(step)
	return nil
}

// across lists the steps that are fixed to, or threaded through, pieces that are no
// longer in one group. The ends of a wire have slack.
func (m *model) across() []int {
	var list []int
	for v, s := range m.steps {
		if m.stands(v) && !m.together(grip(s)) {
			list = append(list, v)
		}
	}
	return list
}

// grip lists the pieces that a step keeps together.
func grip(s plan.Step) []int {
	switch {
	case s.Wire != nil:
		return s.Wire.Through
	case s.Kind == plan.Fit && grips(s.Join):
		return s.Join.Onto
	}
	return nil
}

// grips reports whether a join keeps the pieces that it goes onto together. They part from
// what lies loose or is held by a magnet; a screw through them must be undone first.
func grips(j *kits.Join) bool {
	return !j.Opens || j.Fixing == nil || j.Fixing.Kind != kits.Loose && j.Fixing.Kind != kits.Magnet
}

// comesBy says what keeps what a join fixes, and all that is joined to that, from passing
// between its seat and the outside. Of two groups that close on each other either may be
// the one that moves.
func (m *model) comesBy(step int) *Failure {
	s := m.steps[step]
	f := m.unitsPass(s.Movers(), s.Base())
	if f != nil && s.Kind == plan.Close && m.unitsPass([]int{s.Base()}, s.Movers()[0]) == nil {
		f = nil
	}
	if f == nil {
		f = m.travel(step)
	}
	return f
}

// unitsPass says which space something that moves cannot get into or out of: all that is
// joined to the movers passes what is joined to the base.
func (m *model) unitsPass(movers []int, base int) *Failure {
	for _, p := range movers {
		for _, q := range m.unit(p) {
			if f := m.intoSpaces(q, m.sizeOf(q), base); f != nil {
				return f
			}
		}
	}
	return nil
}

// maxReopened bounds the work of looking for what to undo, in pieces and steps looked at. A
// kit that needs more is not replayed to the end.
const maxReopened = 100_000_000

// reopen does a step for which joins that open have to be undone and made again. It looks
// for a single one first, then takes off all that comes off and leaves out what need not.
// The failure is the one without, with what was tried.
func (m *model) reopen(step int, without *Failure) (undone []int, f *Failure) {
	list := m.openJoins(step)
	if !m.wouldLet(step, list) {
		return nil, without
	}
	for _, v := range list {
		if m.work > maxReopened {
			without.Kind = GivenUp
			return nil, without
		}
		forced := m.clone()
		forced.undo(v)
		if !forced.lets(step) {
			continue
		}
		tried := m.around(step, []int{v})
		if tried == nil {
			return []int{v}, nil
		}
		without.Tried = append(without.Tried, *tried)
	}
	off := m.comeOff(list)
	if m.work > maxReopened {
		without.Kind = GivenUp
		return nil, without
	}
	if !m.clearedBy(step, off) {
		return nil, without
	}
	// Some may have to be off only so that others can be put back.
	for _, enough := range []func([]int) bool{
		func(joins []int) bool { return m.clearedBy(step, joins) && m.clone().around(step, joins) == nil },
		func(joins []int) bool { return m.clearedBy(step, joins) },
	} {
		joins := m.fewest(off, enough)
		tried := m.around(step, joins)
		if tried == nil {
			return joins, nil
		}
		if len(without.Tried) == 0 {
			without.Tried = append(without.Tried, *tried)
		}
	}
	return nil, without
}

// fewest leaves out of a list what is not needed for it to be enough, as long as there is
// work left for that.
func (m *model) fewest(list []int, enough func([]int) bool) []int {
	for i := len(list) - 1; i >= 0 && m.work <= maxReopened; i-- {
		if fewer := slices.Delete(slices.Clone(list), i, i+1); enough(fewer) {
			list = fewer
		}
	}
	return list
}

// openJoins lists the joins that can be undone for a step, the last in the file first.
func (m *model) openJoins(step int) []int {
	var list []int
	for v, s := range slices.Backward(m.steps) {
		if v != step && m.stands(v) && s.Join != nil && s.Join.Opens {
			list = append(list, v)
		}
	}
	return list
}

// wouldLet reports whether a step could be done if joins were all undone at once, whatever
// holds them. If not, nothing is worth trying.
func (m *model) wouldLet(step int, joins []int) bool {
	forced := m.clone()
	for _, v := range joins {
		forced.off[v] = true
	}
	forced.regroup()
	return forced.reaches(step) == nil
}

// lets reports whether a step can be done with what is off at the moment. What it keeps
// together has to be in one group.
func (m *model) lets(step int) bool {
	return m.reaches(step) == nil && m.together(grip(m.steps[step]))
}

// around takes off what some joins fix, does a step, and puts all back, in reverse order
// unless it goes back in another order only. If that fails it says at which join, and
// leaves the model as it was.
func (m *model) around(step int, joins []int) *Tried {
	trial := m.clone()
	for _, v := range joins {
		if f := trial.takeOff(v); f != nil {
			return &Tried{Step: v, Why: f}
		}
	}
	trial.make(step)
	back := trial.backOrder(joins)
	if back == nil {
		back = slices.Clone(joins)
		slices.Reverse(back)
	}
	for _, v := range back {
		if f := trial.putBack(v); f != nil {
			return &Tried{Step: v, Back: true, Why: f}
		}
	}
	*m = *trial
	return nil
}

// backOrder is an order in which joins that are off can be made again, nil if there is
// none: they are put back and taken off in the one, and go back in reverse.
func (m *model) backOrder(joins []int) []int {
	full := m.clone()
	for _, v := range joins {
		full.make(v)
	}
	var back []int
	for more := true; more; {
		more = false
		for _, v := range joins {
			if full.off[v] {
				continue
			}
			without := full.clone()
			if without.undo(v); without.comesBy(v) == nil {
				full, back, more = without, append(back, v), true
			}
		}
	}
	if len(back) < len(joins) {
		return nil
	}
	slices.Reverse(back)
	return back
}

// comeOff undoes joins for as long as one more comes off. Taking off never shuts a way, so
// the order does not matter to what comes off in the end.
func (m *model) comeOff(list []int) []int {
	trial := m.clone()
	var off []int
	for more := true; more; {
		more = false
		for _, v := range list {
			if !trial.off[v] && m.work <= maxReopened && trial.takeOff(v) == nil {
				off, more = append(off, v), true
			}
		}
	}
	return off
}

// clearedBy reports whether joins can be undone in turn, and let a step be done then.
func (m *model) clearedBy(step int, joins []int) bool {
	trial := m.clone()
	for _, v := range joins {
		if trial.takeOff(v) != nil {
			return false
		}
	}
	return trial.lets(step)
}
