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
	d := &divider{r, m, int32(len(list))}
	var done [][]int32
	for _, cells := range list {
		done = d.divided(done, cells, nil)
	}
	return done
}

// divider divides pockets.
type divider struct {
	*room
	m    *Model
	next int32 // number of the next pocket
}

// divided adds what a pocket is divided into to a list; tried are the plates that divide
// nothing in it.
func (d *divider) divided(done [][]int32, cells []int32, tried []int) [][]int32 {
	if d.length(cells) < shortPocket {
		d.release(cells)
		return done
	}
	parts, tried := d.divide(cells, tried)
	if parts == nil {
		return append(done, cells)
	}
	for _, part := range parts {
		done = d.divided(done, part, tried)
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
func (d *divider) divide(cells []int32, tried []int) (parts [][]int32, nowTried []int) {
	tried = slices.Clone(tried)
	type plate struct {
		piece, axis int
		fills       float64
	}
	var list []plate
	for _, p := range d.beside(cells) {
		axis, flat := d.m.plateAxis(p)
		if !flat || slices.Contains(tried, p) {
			continue
		}
		middle := int(((d.m.Pieces[p].Min[axis]+d.m.Pieces[p].Max[axis])/2 - d.origin[axis]) / d.cell)
		solid, air := d.section(d.pocket[cells[0]], p, axis, middle, d.m)
		if fills := float64(solid) / float64(max(solid+len(air), 1)); fills > fillsMost {
			list = append(list, plate{p, axis, fills})
		}
	}
	slices.SortStableFunc(list, func(a, b plate) int { return cmp.Compare(b.fills, a.fills) })
	for _, p := range list {
		if parts := d.cut(cells, p.piece, p.axis); parts != nil {
			return parts, append(tried, p.piece)
		}
		tried = append(tried, p.piece)
	}
	return nil, tried
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
func (d *divider) cut(cells []int32, piece, axis int) [][]int32 {
	own := d.pocket[cells[0]]
	low := int((d.m.Pieces[piece].Min[axis] - d.origin[axis]) / d.cell)
	high := int((d.m.Pieces[piece].Max[axis] - d.origin[axis]) / d.cell)
	door := 0
	for layer := low; layer <= high; layer++ {
		_, air := d.section(own, piece, axis, layer, d.m)
		door += len(air)
		for _, c := range air {
			d.pocket[c] = doorway
		}
	}
	if door == 0 {
		return nil
	}
	var parts [][]int32
	rooms, enough := 0, worthARoom*float64(len(cells))
	for _, c := range cells {
		if d.pocket[c] != own {
			continue
		}
		d.next++
		part := d.claim(int(c), d.next, func(i int) bool { return d.pocket[i] == own })
		parts = append(parts, part)
		if float64(len(part)) >= enough {
			rooms++
		}
		if float64(len(cells)-door-len(part)) < enough {
			break // what is left is no room
		}
	}
	if rooms < 2 {
		for _, c := range cells {
			d.pocket[c] = own
		}
		return nil
	}
	return parts
}
