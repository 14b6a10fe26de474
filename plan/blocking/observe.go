package blocking

import "dryfit/kits/geom"

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
