package blocking

import (
	"cmp"
	"slices"
)

// A bulkhead or a floor divides a hollow, even if there is a door in it: a plate that
// fills more than half of the section it stands in.
const (
	plateRatio  = 3    // a plate is this many times as long and as wide as thick; ours
	fillsMost   = 0.5  // of the section; ours
	worthARoom  = 0.05 // of the hollow that is divided; less is a gap behind a lining; ours
	shortPocket = 10   // cells along its longest side; less is a gap as far as can be told; ours
)

// pockets lists the hollows, divided by bulkheads and floors.
func (r *room) pockets(m *Model) [][]int32 {
	var list [][]int32
	for start := range r.piece {
		if r.pocket[start] == none && r.isInside(start) {
			list = append(list, r.claim(start, int32(len(list)), func(i int) bool { return r.pocket[i] == none && r.isInside(i) }))
		}
	}
	var done [][]int32
	next := int32(len(list))
	for len(list) > 0 {
		cells := list[0]
		list = list[1:]
		if r.length(cells) < shortPocket {
			r.release(cells)
			continue
		}
		parts := r.divide(m, cells, &next)
		if parts == nil {
			done = append(done, cells)
		}
		list = append(list, parts...)
	}
	return done
}

// claim gives a pocket the cells that grow from one.
func (r *room) claim(start int, number int32, accept func(i int) bool) []int32 {
	r.pocket[start] = number
	return r.spread(start, func(to int) bool {
		if !accept(to) {
			return false
		}
		r.pocket[to] = number
		return true
	})
}

func (r *room) release(cells []int32) {
	for _, c := range cells {
		r.pocket[c] = none
	}
}

// divide divides a pocket by the plate that fills the most of its section; nil if no
// plate does.
func (r *room) divide(m *Model, cells []int32, next *int32) [][]int32 {
	type plate struct {
		piece, axis int
		fills       float64
	}
	var list []plate
	for _, p := range r.beside(cells) {
		axis, flat := m.plateAxis(p)
		if !flat {
			continue
		}
		middle := int(((m.Pieces[p].Min[axis]+m.Pieces[p].Max[axis])/2 - r.origin[axis]) / r.cell)
		solid, air := r.section(r.pocket[cells[0]], p, axis, middle, m)
		if fills := float64(solid) / float64(max(solid+len(air), 1)); fills > fillsMost {
			list = append(list, plate{p, axis, fills})
		}
	}
	slices.SortStableFunc(list, func(a, b plate) int { return cmp.Compare(b.fills, a.fills) })
	for _, p := range list {
		if parts := r.cut(m, cells, p.piece, p.axis, next); parts != nil {
			return parts
		}
	}
	return nil
}

// plateAxis is the axis across a plate.
func (m *Model) plateAxis(p int) (axis int, flat bool) {
	size := m.Pieces[p].Size()
	for k := range 3 {
		if size[k] < size[axis] {
			axis = k
		}
	}
	return axis, min(size[(axis+1)%3], size[(axis+2)%3]) >= plateRatio*size[axis]
}

// section goes through a layer of cells across an axis: the number of cells of a piece in
// it, and the air of a pocket that lies around and in the piece there.
func (r *room) section(pocket int32, piece, axis, layer int, m *Model) (solid int, air []int32) {
	var from, to, at [3]int
	for k := range 3 {
		from[k] = int((m.Pieces[piece].Min[k] - r.origin[k]) / r.cell)
		to[k] = int((m.Pieces[piece].Max[k] - r.origin[k]) / r.cell)
	}
	u, v := (axis+1)%3, (axis+2)%3
	at[axis] = layer
	seen := map[int32]bool{}
	grow := func(i int) {
		for _, direction := range []int{2 * u, 2*u + 1, 2 * v, 2*v + 1} {
			if n := r.next(i, direction); n >= 0 && r.pocket[n] == pocket && !seen[int32(n)] {
				seen[int32(n)] = true
				air = append(air, int32(n))
			}
		}
	}
	for at[u] = from[u]; at[u] <= to[u]; at[u]++ {
		for at[v] = from[v]; at[v] <= to[v]; at[v]++ {
			if i := r.index(at); i >= 0 && int(r.piece[i]) == piece+1 {
				solid++
				grow(i)
			}
		}
	}
	for n := 0; n < len(air); n++ {
		grow(int(air[n]))
	}
	return solid, air
}

// cut divides a pocket along a plate. If less than two rooms come of it, nothing is done.
func (r *room) cut(m *Model, cells []int32, piece, axis int, next *int32) [][]int32 {
	own := r.pocket[cells[0]]
	low := int((m.Pieces[piece].Min[axis] - r.origin[axis]) / r.cell)
	high := int((m.Pieces[piece].Max[axis] - r.origin[axis]) / r.cell)
	door := 0
	for layer := low; layer <= high; layer++ {
		_, air := r.section(own, piece, axis, layer, m)
		door += len(air)
		for _, c := range air {
			r.pocket[c] = doorway
		}
	}
	if door == 0 {
		return nil
	}
	var parts [][]int32
	rooms := 0
	for _, c := range cells {
		if r.pocket[c] == own {
			*next++
			part := r.claim(int(c), *next, func(i int) bool { return r.pocket[i] == own })
			if float64(len(part)) >= worthARoom*float64(len(cells)) {
				rooms++
			}
			parts = append(parts, part)
		}
	}
	if rooms < 2 {
		for _, c := range cells {
			r.pocket[c] = own
		}
		return nil
	}
	return parts
}
