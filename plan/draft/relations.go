package draft

import (
	"math"
	"slices"

	"dryfit/kits/geom"
)

// relations are what the meshes say of how pieces lie against each other.
type relations struct {
	*Measurement
	near    [][]neighbour // of each piece
	room    []float64     // volume of the box of each piece, mm3
	in      []int         // the hollow that holds each piece, -1 if none
	wall    []bool        // the piece shuts a whole side of a hollow
	plate   []bool        // the piece is a floor or a bulkhead of a hollow
	touches []bool        // the piece touches another, and is not only held by the fit
	closes  []bool        // the piece closes a hollow, or a part of it
	all     []float64     // area in which each piece faces its neighbours, mm2
}

// neighbour is a piece that touches another, or that only the fit keeps apart. Areas are
// mm2, seen along each axis: first where the neighbour is up the axis, then down it.
type neighbour struct {
	piece int
	faces [3][2]float64
	area  float64 // all of them together
	touch bool    // they touch
}

// apartArea is what area counts that only the fit keeps apart, to what touches; ours.
const apartArea = 0.02

// barely is the area, in mm2, of what touches along a line only.
const barely = 1e-6

// relate finds the neighbours of all pieces.
func (m *Measurement) relate() *relations {
	n := len(m.Pieces)
	r := &relations{Measurement: m, near: make([][]neighbour, n), room: make([]float64, n), in: slices.Repeat([]int{-1}, n), wall: make([]bool, n), closes: make([]bool, n), plate: make([]bool, n), touches: make([]bool, n), all: make([]float64, n)}
	for p, mesh := range m.survey.Pieces {
		size := mesh.Size()
		r.room[p] = size[0] * size[1] * size[2]
	}
	for i := range m.hollows {
		for _, p := range m.hollows[i].Holds {
			r.in[p] = i
		}
		for _, p := range m.hollows[i].Plates {
			r.plate[p] = true
		}
	}
	for i := range m.hollows {
		for _, c := range m.hollows[i].Closers {
			if r.in[c.Piece] < 0 { // no floor between two rooms
				r.closes[c.Piece] = true
				r.wall[c.Piece] = r.wall[c.Piece] || c.WholeSide()
			}
		}
	}
	for i, pair := range m.survey.Model.Pairs {
		there, back := neighbour{piece: pair.B}, neighbour{piece: pair.A}
		for axis := range 3 {
			up, down := m.faces[i][axis][0], m.faces[i][axis][1]
			there.faces[axis], back.faces[axis] = [2]float64{up, down}, [2]float64{down, up}
			there.area += up + down
		}
		if there.area == 0 {
			if pair.Contact == 0 && pair.Depth == 0 && !(pair.Gap <= m.Fit) {
				continue
			}
			there.area = barely
		}
		there.touch = pair.Contact > 0 || pair.Depth > 0
		if there.touch {
			r.touches[pair.A], r.touches[pair.B] = true, true
		} else {
			there.area *= apartArea
		}
		back.area, back.touch = there.area, there.touch
		r.near[pair.A] = append(r.near[pair.A], there)
		r.near[pair.B] = append(r.near[pair.B], back)
		r.all[pair.A] += there.area
		r.all[pair.B] += there.area
	}
	return r
}

// pressed is the area of a piece that comes to rest against a neighbour when it travels in
// a direction, mm2.
func (n *neighbour) pressed(toward geom.Vec) float64 {
	sum := 0.0
	for axis := range 3 {
		sum += max(toward[axis], 0)*n.faces[axis][0] + max(-toward[axis], 0)*n.faces[axis][1]
	}
	return sum
}

// beside is what one piece is to another; nil if they are not near each other.
func (r *relations) beside(p, q int) *neighbour {
	for i := range r.near[p] {
		if r.near[p][i].piece == q {
			return &r.near[p][i]
		}
	}
	return nil
}

// mirrorAxis is the axis along which two pieces are mirror images by their boxes and
// volumes, and meet; -1 if they are not.
func (r *relations) mirrorAxis(p, q int) int {
	a, b := r.survey.Pieces[p], r.survey.Pieces[q]
	if r.beside(p, q) == nil || math.Abs(a.Volume-b.Volume) > 0.05*max(a.Volume, b.Volume) {
		return -1
	}
	axis := -1
	for k := range 3 {
		slack := r.Fit + 0.01*a.Size()[k]
		same := math.Abs(a.Min[k]-b.Min[k]) <= slack && math.Abs(a.Max[k]-b.Max[k]) <= slack
		apart := max(a.Min[k], b.Min[k]) >= min(a.Max[k], b.Max[k])-slack && math.Abs(a.Size()[k]-b.Size()[k]) <= slack
		switch {
		case same:
		case apart && axis < 0:
			axis = k
		default:
			return -1
		}
	}
	return axis
}
