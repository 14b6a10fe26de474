package rehearse

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// askOrder collects what the designer asks by after and before.
func (s *script) askOrder() {
	for v, step := range s.steps {
		said := step.Said()
		for _, t := range said.After {
			s.earlier[v] = append(s.earlier[v], s.meant(t)...)
		}
		for _, t := range said.Before {
			for _, later := range s.meant(t) {
				s.earlier[later] = append(s.earlier[later], v)
			}
		}
	}
}

// meant lists the steps that an after or before names.
func (s *script) meant(t kits.Target) []int {
	var list []int
	for _, j := range t.Joins {
		list = append(list, s.number[j])
	}
	if t.Wire != nil {
		list = append(list, s.number[t.Wire])
	}
	if t.Task != nil {
		list = append(list, s.number[t.Task])
	}
	return list
}

// askCoats: pieces painted outside are on before an outside coat, and pieces painted off
// the model come after it. What nothing fits is on with the closings that name it.
func (s *script) askCoats() {
	for coat, step := range s.steps {
		if !step.IsCoat() {
			continue
		}
		for v, on := range s.steps {
			for _, p := range on.Pieces() {
				paint := s.kit.Pieces[p].Part.Paint
				switch {
				case paint == kits.PaintOutside && (on.Kind == plan.Fit || s.fits[p] < 0):
					s.earlier[coat] = append(s.earlier[coat], v)
				case paint == kits.PaintOffModel && on.Kind == plan.Fit:
					s.earlier[v] = append(s.earlier[v], coat)
				}
			}
		}
	}
}

// needs says what a step still waits for, whatever the ways in.
func (m *model) needs(step int) *Failure {
	f := &Failure{Action: Action{Step: step}, Piece: -1}
	if m.made[step] {
		f.Kind = Again
		return f
	}
	for _, v := range m.earlier[step] {
		if !m.made[v] && !slices.Contains(f.Steps, v) {
			f.Kind, f.Steps = Early, append(f.Steps, v)
		}
	}
	if len(f.Steps) > 0 {
		return f
	}
	s := m.steps[step]
	seats := s.To()
	if s.Kind == plan.Close {
		seats = s.Pieces()
	}
	for _, p := range seats {
		if v := m.fits[p]; v >= 0 && !m.made[v] && !m.steps[v].Join.Bench && !slices.Contains(f.Pieces, p) {
			f.Kind, f.Pieces, f.Steps = Unseated, append(f.Pieces, p), append(f.Steps, v)
		}
	}
	if len(f.Pieces) > 0 {
		return f
	}
	if list := s.To(); !m.together(list) && (s.Join != nil && grips(s.Join) || !m.complete().together(list)) {
		f.Kind, f.Pieces = Apart, list
		return f
	}
	return nil
}

// complete is the model with all put back that is off for a while. The ends of a wire have
// slack, so they may be apart for as long.
func (m *model) complete() *model {
	whole := m.clone()
	clear(whole.off)
	whole.regroup()
	return whole
}
