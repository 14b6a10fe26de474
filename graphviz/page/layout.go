package page

import (
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// layOut places boxes for the pieces of a kit without meshes: each next to what
// it is fitted to, on the side it comes from, and clear of the others. It is a
// schematic, not the model.
func layOut(k *kits.Kit) []geom.Box {
	boxes := make([]geom.Box, len(k.Pieces))
	placed := make([]bool, len(k.Pieces))
	all := newShelf(edgeFor(k))
	next := 0.0
	var place func(p, depth int)
	place = func(p, depth int) {
		if placed[p] {
			return
		}
		size := sizeOf(k, p)
		j := k.Fitted(p)
		if j == nil || len(j.Onto) == 0 || depth > len(k.Pieces) {
			boxes[p] = boxAt(geom.Vec{next, 0, 0}, size)
			next += size[0] * 1.5
		} else {
			place(j.Onto[0], depth+1)
			boxes[p] = beside(all, boxes[j.Onto[0]], size, j.Toward)
		}
		placed[p] = true
		all.put(boxes[p])
	}
	for p := range k.Pieces {
		place(p, 0)
	}
	return boxes
}

// edgeFor is the edge of a cell that holds a few boxes of a kit: twice the mean of their sides.
func edgeFor(k *kits.Kit) float64 {
	sum := 0.0
	for p := range k.Pieces {
		size := sizeOf(k, p)
		sum += size[0] + size[1] + size[2]
	}
	return max(2*sum/float64(3*max(len(k.Pieces), 1)), 1)
}

func boxAt(low, size geom.Vec) geom.Box { return geom.Box{Min: low, Max: low.Plus(size)} }

// gap is the space between the boxes of a schematic, in mm.
const gap = 2

// beside finds a place for a box next to another, on the side that it comes from,
// or above if the kit does not say.
func beside(all *shelf, to geom.Box, size geom.Vec, toward *[3]float64) geom.Box {
	axis, sign := 2, 1.0
	if toward != nil {
		axis = 0
		for k := range 3 {
			if math.Abs(toward[k]) > math.Abs(toward[axis]) {
				axis = k
			}
		}
		if toward[axis] > 0 {
			sign = -1
		}
	}
	side := (axis + 1) % 3
	if side == 2 {
		side = 0
	}
	low := to.Centre().Minus(size.Times(0.5))
	low[axis] = to.Max[axis] + gap
	if sign < 0 {
		low[axis] = to.Min[axis] - gap - size[axis]
	}
	low[side] = to.Min[side]
	for range 1000 {
		hit := all.first(boxAt(low, size))
		if hit < 0 {
			break
		}
		low[side] = all.boxes[hit].Max[side] + gap
		if low[side] > to.Max[side]+5*size[side] { // the row is full: start another, farther out
			low[side] = to.Min[side]
			low[axis] += sign * (size[axis] + gap)
		}
	}
	return boxAt(low, size)
}

func overlap(a, b geom.Box) bool {
	for k := range 3 {
		if b.Max[k] <= a.Min[k] || a.Max[k] <= b.Min[k] {
			return false
		}
	}
	return true
}

// usual is the size of a box, in mm, for a piece whose size is not stated.
var usual = geom.Vec{20, 20, 10}

func sizeOf(k *kits.Kit, p int) geom.Vec {
	if s := k.Pieces[p].Part.Size; s != nil {
		return s.XYZ
	}
	return usual
}
