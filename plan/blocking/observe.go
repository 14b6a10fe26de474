package blocking

import (
	"context"

	"dryfit/kits/geom"
)

// observe samples some pieces along w. It returns the observations of all pairs
// that share a line, sorted by pair, and for each piece the number of lines along
// which it is not closed. Gaps and contacts are measured on request. If only is
// not nil, pairs with neither piece marked in it are left out.
func (m *Model) observe(ctx context.Context, w geom.Vec, which []int, contact bool, only []bool) ([]pairObservation, []int, error) {
	v := newView(w, m.Pitch, m.box(m.all()))
	a, which := m.inView(v, which, only)
	broken := make([]int, len(m.Pieces))
	if a.empty() || len(which) < 2 {
		return nil, broken, nil // there is no pair
	}
	plates, err := m.workers.draw(ctx, v, a, m.Pieces, which)
	if err != nil {
		return nil, nil, err
	}
	eyes := make([]*observer, m.workers.size())
	for i := range eyes {
		eyes[i] = newObserver(v, len(m.Pieces), m.Depth, m.Touch, contact)
		eyes[i].only = only
	}
	err = m.workers.strips(ctx, plates, func(worker int, a area, shared bool, load func(*strip)) {
		load(&eyes[worker].strip)
		eyes[worker].read(ctx, a, shared)
	})
	if err != nil {
		return nil, nil, err
	}
	tables := make([]*tallies, len(eyes))
	for i, e := range eyes {
		tables[i] = e.table
		for p, n := range e.broken {
			broken[p] += n
		}
	}
	slots := merge(tables)
	if err := m.refine(ctx, v, slots, discLines); err != nil {
		return nil, nil, err
	}
	var list []pairObservation
	for i := range slots {
		if s := slots[i].seen(v); s.any() {
			list = append(list, s)
		}
	}
	return list, broken, nil
}

// inView is the area of the grid that the pieces, or the marked ones, cover, and
// the pieces seen in it.
func (m *Model) inView(v *view, which []int, only []bool) (area, []int) {
	var a area
	for _, p := range which {
		if only != nil && !only[p] {
			continue
		}
		c := v.cover(m.Pieces[p].Box)
		if a.empty() {
			a = c
		}
		a = area{min(a.x0, c.x0), min(a.y0, c.y0), max(a.x1, c.x1), max(a.y1, c.y1)}
	}
	var list []int
	for _, p := range which {
		if !a.meet(v.cover(m.Pieces[p].Box)).empty() {
			list = append(list, p)
		}
	}
	return a, list
}

// box is the box around some pieces.
func (m *Model) box(which []int) geom.Box {
	var box geom.Box
	for i, p := range which {
		if i == 0 {
			box = m.Pieces[p].Box
		}
		box = box.Around(m.Pieces[p].Box)
	}
	return box
}
