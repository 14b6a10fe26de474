package page

import (
	"dryfit/kits"
)

// layOut stands boxes for pieces of a kit without meshes: each beside what it is fitted
// to, on the side it comes from, and clear of the others. It is a scheme, not the model.
func layOut(k *kits.Kit) [][2][3]float64 {
	boxes := make([][2][3]float64, len(k.Pieces))
	placed := make([]bool, len(k.Pieces))
	var all []int
	put := func(p int, low [3]float64) {
		s := sizeOf(k, p)
		boxes[p] = [2][3]float64{low, {low[0] + s[0], low[1] + s[1], low[2] + s[2]}}
		placed[p] = true
		all = append(all, p)
	}
	var place func(p, depth int)
	next := 0.0
	place = func(p, depth int) {
		if placed[p] {
			return
		}
		j := k.Fitted(p)
		if j == nil || len(j.Onto) == 0 || depth > len(k.Pieces) {
			put(p, [3]float64{next, 0, 0})
			next += sizeOf(k, p)[0] * 1.5
			return
		}
		place(j.Onto[0], depth+1)
		put(p, beside(boxes, all, boxes[j.Onto[0]], sizeOf(k, p), j.Toward))
	}
	for p := range k.Pieces {
		place(p, 0)
	}
	return boxes
}

// gap is the room between the boxes of a scheme, in mm.
const gap = 2

// beside finds room for a box beside another, on the side that it comes from; from above
// if the kit does not say.
func beside(boxes [][2][3]float64, all []int, to [2][3]float64, size [3]float64, toward *[3]float64) [3]float64 {
	axis, sign := 2, 1.0
	if toward != nil {
		axis = 0
		for k := range 3 {
			if abs(toward[k]) > abs(toward[axis]) {
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
	var low [3]float64
	for k := range 3 {
		low[k] = (to[0][k]+to[1][k])/2 - size[k]/2
	}
	low[axis] = to[1][axis] + gap
	if sign < 0 {
		low[axis] = to[0][axis] - gap - size[axis]
	}
	low[side] = to[0][side]
	for range 1000 {
		hit := -1
		for _, p := range all {
			if overlap(boxes[p], low, size) {
				hit = p
				break
			}
		}
		if hit < 0 {
			break
		}
		low[side] = boxes[hit][1][side] + gap
		if low[side] > to[1][side]+5*size[side] { // the row is full: another one farther out
			low[side] = to[0][side]
			low[axis] += sign * (size[axis] + gap)
		}
	}
	return low
}

func overlap(b [2][3]float64, low, size [3]float64) bool {
	for k := range 3 {
		if low[k]+size[k] <= b[0][k] || b[1][k] <= low[k] {
			return false
		}
	}
	return true
}

func abs(x float64) float64 { return max(x, -x) }

// usual is the size, in mm, of a box for a piece whose size is not stated.
var usual = [3]float64{20, 20, 10}

func sizeOf(k *kits.Kit, p int) [3]float64 {
	if s := k.Pieces[p].Part.Size; s != nil {
		return s.XYZ
	}
	return usual
}
