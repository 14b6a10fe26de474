package plan

import (
	"slices"

	"dryfit/kits"
)

// Detour is what is taken off to let something in, and put back once it is in.
type Detour struct {
	Off  []int // joins, in the order in which they are undone
	Back []int // the same, in the order in which they are made again
	// Turns says that something must be turned in an opening for it.
	Turns bool
}

// detour finds as few joins as possible that let a step be done once they are undone, and
// can be made again afterwards; nil if there are none.
//
// What can be undone in turn from a moment is closed under union, since taking off never
// shuts a way. So are the sets that come off both before the step and after it: to put
// things back is to take them off, in reverse. The largest such set therefore lets the step
// be done if any does.
func (m *moment) detour(step int) *Detour {
	best := m.anyDetour(step, m.asked <= maxAsked)
	if best == nil || len(best.Off) == 1 {
		return best
	}
	after := m.with(true, step)
	for run := (len(best.Off) + 1) / 2; run > 0; run /= 2 {
		list := best.Off
		for end := len(list); end > 0 && m.asked <= maxAsked; end -= run {
			drop := list[max(end-run, 0):end]
			fewer := slices.DeleteFunc(slices.Clone(best.Off), func(v int) bool { return slices.Contains(drop, v) })
			if d := m.around(step, after, fewer); d != nil {
				best = d
			}
		}
	}
	return best
}

// anyDetour finds one join or, where many are looked for too, as many as needed and more,
// that let a step be done once they are undone.
func (m *moment) anyDetour(step int, many bool) *Detour {
	all := m.openable(step)
	if len(all) == 0 || !m.with(false, all...).admits(step) {
		return nil
	}
	after := m.with(true, step)
	for _, v := range m.inTheWay(step, all) {
		if d := m.around(step, after, []int{v}); d != nil {
			return d
		}
	}
	if !many {
		m.gaveUp = true
		return nil
	}
	return m.around(step, after, m.bothWays(after, all))
}

// inTheWay lists those of some joins that tie what shuts an access of a step: without one
// of them no single one lets it be done.
func (m *moment) inTheWay(step int, joins []int) []int {
	shuts := map[int32]bool{}
	for _, i := range m.accessOf[step] {
		for _, t := range m.Access[i].Routes {
			for _, b := range t.Blockers {
				for _, v := range b.Joins {
					shuts[v] = true
				}
			}
		}
	}
	return slices.DeleteFunc(slices.Clone(joins), func(v int) bool { return !shuts[int32(v)] })
}

// openable lists the joins that open and can be off while a step is done, the last of the
// file first. What a fit grips, or a wire is threaded through, has to be in one group.
func (m *moment) openable(step int) []int {
	var tied []int32
	if holds := m.grip(m.Steps[step]); len(holds) > 1 {
		for _, q := range holds[1:] {
			if m.tree.tied(holds[0], q) {
				tied = append(tied, m.tree.path(holds[0], q)...)
			}
		}
	}
	var list []int
	for _, v := range m.thatOpen() {
		if v != step && m.stands(int32(v)) && !slices.Contains(tied, int32(v)) {
			list = append(list, v)
		}
	}
	return list
}

// bothWays is the largest set of joins that comes off before a step and after it.
func (m *moment) bothWays(after *moment, joins []int) []int {
	for {
		kept := after.comeOff(m.comeOff(joins, true), false)
		if len(kept) == len(joins) {
			return kept
		}
		joins = kept
	}
}

// around undoes joins, does a step and makes them again; nil if that cannot be done with
// just these.
func (m *moment) around(step int, after *moment, joins []int) *Detour {
	if !m.with(false, joins...).admits(step) {
		return nil
	}
	d := &Detour{Off: m.comeOff(joins, true)}
	if len(d.Off) < len(joins) {
		return nil
	}
	d.Back = after.comeOff(slices.Clone(d.Off), false)
	slices.Reverse(d.Back)
	if len(d.Back) < len(joins) {
		return nil
	}
	return d
}

// comeOff undoes those of some joins that come off one after the other, and lists them in
// that order. Whether something holds both sides of a join matters only if it is asked for:
// what is threaded through two pieces keeps them from parting, not from meeting.
func (m *moment) comeOff(joins []int, held bool) []int {
	var off []int
	now := m
	for more := true; more; {
		more = false
		for _, v := range joins {
			if !now.stands(int32(v)) || held && now.held(v) {
				continue
			}
			if without := now.with(false, v); without.comesBy(v) {
				now, off, more = without, append(off, v), true
			}
		}
	}
	return off
}

// held reports whether something that is on holds both sides of a join together.
func (m *moment) held(step int) bool {
	return slices.ContainsFunc(m.bridge[step], func(by int32) bool {
		holds := m.grip(m.Steps[by])
		return int(by) != step && m.stands(by) && len(holds) > 1 && slices.ContainsFunc(holds[1:], func(p int) bool {
			return m.group(p) == m.group(holds[0]) && slices.Contains(m.tree.path(holds[0], p), int32(step))
		})
	})
}

// grip lists the pieces that a step keeps together: a wire those that it is threaded
// through, while its ends have slack.
func (m *moment) grip(s Step) []int {
	switch {
	case s.Wire != nil:
		return s.Wire.Through
	case s.Kind == Fit && grips(&m.Change, s.Join):
		return m.Change.OntoOf(s.Join)
	}
	return nil
}

// grips reports whether a join keeps the pieces that it goes onto together. They part from
// what lies loose or is held by a magnet; a screw through them must be undone first.
func grips(c *Change, j *kits.Join) bool {
	return !c.IsOpen(j) || j.Fixing == nil || j.Fixing.Kind != kits.Loose && j.Fixing.Kind != kits.Magnet
}
