package reach

import "context"

// look looks at some pieces along w. It returns what is said of all pairs that are
// seen together, by pair, and for each piece the number of lines along which it is
// not closed. Gaps and contacts are measured when asked for.
func (m *Model) look(ctx context.Context, w vec, which []int, contact bool) ([]slot, []int, error) {
	lo, hi := m.box(which)
	v := newView(w, m.Pitch, lo, hi)
	plates, err := m.crew.draw(ctx, v, area{0, 0, v.cols, v.rows}, m.Pieces, which)
	if err != nil {
		return nil, nil, err
	}
	eyes := make([]*witness, m.crew.size())
	for i := range eyes {
		eyes[i] = newWitness(v, len(m.Pieces), m.Depth, m.Touch, contact)
	}
	err = m.crew.strips(ctx, plates, func(worker int, a area, shared bool, load func(*strip)) {
		load(&eyes[worker].strip)
		eyes[worker].read(a, shared)
	})
	if err != nil {
		return nil, nil, err
	}
	broken := make([]int, len(m.Pieces))
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
	return slots, broken, nil
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
