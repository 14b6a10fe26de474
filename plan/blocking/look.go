package blocking

import "context"

// look looks at some pieces along w. It returns what is said of all pairs that are
// seen together, by pair, and for each piece the number of lines along which it is
// not closed. Gaps and contacts are measured when asked for. If only is not nil,
// pairs of which neither piece is marked in it are left out.
func (m *Model) look(ctx context.Context, w vec, which []int, contact bool, only []bool) ([]seen, []int, error) {
	lo, hi := m.box(m.all())
	v := newView(w, m.Pitch, lo, hi)
	a, which := m.inView(v, which, only)
	broken := make([]int, len(m.Pieces))
	if a.empty() {
		return nil, broken, nil
	}
	plates, err := m.crew.draw(ctx, v, a, m.Pieces, which)
	if err != nil {
		return nil, nil, err
	}
	eyes := make([]*witness, m.crew.size())
	for i := range eyes {
		eyes[i] = newWitness(v, len(m.Pieces), m.Depth, m.Touch, contact)
		eyes[i].only = only
	}
	err = m.crew.strips(ctx, plates, func(worker int, a area, shared bool, load func(*strip)) {
		load(&eyes[worker].strip)
		eyes[worker].read(a, shared)
	})
	if err != nil {
		return nil, nil, err
	}
	tables := make([]*table, len(eyes))
	for i, e := range eyes {
		tables[i] = e.table
		for p, n := range e.broken {
			broken[p] += n
		}
	}
	slots := merge(tables)
	if err := m.closer(ctx, v, slots, discLines); err != nil {
		return nil, nil, err
	}
	var list []seen
	for i := range slots {
		if s := slots[i].seen(v); s.any() {
			list = append(list, s)
		}
	}
	return list, broken, nil
}

// inView is the stretch of grid to look at, which the pieces or the marked ones of
// them cover, and the pieces seen in it.
func (m *Model) inView(v *view, which []int, only []bool) (area, []int) {
	var a area
	for _, p := range which {
		if only != nil && !only[p] {
			continue
		}
		c := v.cover(m.Pieces[p].Min, m.Pieces[p].Max)
		if a.empty() {
			a = c
		}
		a = area{min(a.x0, c.x0), min(a.y0, c.y0), max(a.x1, c.x1), max(a.y1, c.y1)}
	}
	var list []int
	for _, p := range which {
		if !a.meet(v.cover(m.Pieces[p].Min, m.Pieces[p].Max)).empty() {
			list = append(list, p)
		}
	}
	return a, list
}

// box is the box around some pieces.
func (m *Model) box(which []int) (lo, hi vec) {
	for i, p := range which {
		b := m.Pieces[p]
		if i == 0 {
			lo, hi = b.Min, b.Max
		}
		for k := range 3 {
			lo[k], hi[k] = min(lo[k], b.Min[k]), max(hi[k], b.Max[k])
		}
	}
	return lo, hi
}
