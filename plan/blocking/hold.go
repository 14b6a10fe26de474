package blocking

import "slices"

const (
	buriedShare = 0.5 // of the surface of a piece that touches others: it belongs to what is around it; ours
	floorShare  = 0.5 // of the section of a hollow that a plate in it takes up: it is a floor or a wall of it; ours
	wholly      = 0.8 // of the air next to a piece: with so much in one hollow it is in no other; ours
	screenShare = 0.5 // of what it has inside that a closer must have outside; ours
	unheld      = -1
)

// hold finds what each hollow holds: pieces that nothing but a closer keeps in, next to
// more of its air than of the outside's. What stands between two, such as a bulkhead, goes
// to the larger one in which anything else stands; what is next to no air goes with what
// is around it.
func (m *Model) hold(r *room, list []Hollow, airs [][]int32, inner []uint8) {
	h := &holder{m: m, list: list, inner: inner, in: slices.Repeat([]int{unheld}, len(m.Pieces)), faces: r.facesOf(list, airs, len(m.Pieces)), cell: r.cell, touching: make([]float64, len(m.Pieces))}
	for _, p := range m.Pairs {
		h.touching[p.A] += p.Contact
		h.touching[p.B] += p.Contact
	}
	h.dropScreens()
	var between, buried []int
	for _, p := range h.kept() {
		all := 0
		for _, n := range h.faces[p] {
			all += n
		}
		best := h.most(p)
		switch {
		case best >= 0 && h.bounds(p, best):
			between = append(between, p)
			list[best].Plates = append(list[best].Plates, p)
		case all == 0 || h.touching[p] > buriedShare*m.Pieces[p].Area:
			buried = append(buried, p)
		case best < 0 || h.faces[p][best] < h.faces[p][len(list)] && !h.behind(p, best):
		case float64(h.faces[p][best]) >= wholly*float64(all):
			h.in[p] = best
		default:
			between = append(between, p)
		}
	}
	h.furnished = make([]bool, len(list))
	for _, i := range h.in {
		if i >= 0 {
			h.furnished[i] = true
		}
	}
	h.bury(buried)
	for _, p := range between {
		h.in[p] = h.larger(p)
	}
	h.bury(buried)
	for p, i := range h.in {
		if i >= 0 && h.furnished[i] {
			list[i].Holds = append(list[i].Holds, p)
		}
	}
}

// dropScreens drops closers that are next to hardly any air outside: they only stand in
// front of a door.
func (h *holder) dropScreens() {
	for i := range h.list {
		h.list[i].Closers = slices.DeleteFunc(h.list[i].Closers, func(c HollowCloser) bool {
			inside := 0
			for _, n := range h.faces[c.Piece][:len(h.list)] {
				inside += n
			}
			return !c.within && float64(h.faces[c.Piece][len(h.list)]) < screenShare*float64(inside)
		})
	}
}

// holder finds what hollows hold.
type holder struct {
	m         *Model
	list      []Hollow
	inner     []uint8   // directions in which a larger piece lies against each
	in        []int     // piece -> hollow
	faces     [][]int   // piece -> faces of its cells next to the air of each hollow, then of the outside
	cell      float64   // mm
	furnished []bool    // something stands wholly in the hollow
	touching  []float64 // mm2 of each piece that touches others
}

// facesOf counts the faces of the cells of each piece that are next to the air of each
// hollow and, last, of the outside. Gaps and doorways do not count.
func (r *room) facesOf(list []Hollow, airs [][]int32, pieces int) [][]int {
	number := map[int32]int{}
	for i := range list {
		number[r.pocket[airs[i][0]]] = i
	}
	faces := make([][]int, pieces)
	for p := range faces {
		faces[p] = make([]int, len(list)+1)
	}
	for i, p := range r.piece {
		if p == 0 {
			continue
		}
		for direction := range 6 {
			n := r.next(i, direction)
			if n < 0 {
				faces[p-1][len(list)]++
			} else if h, known := number[r.pocket[n]]; known {
				faces[p-1][h]++
			} else if r.piece[n] == 0 && !r.isInside(n) {
				faces[p-1][len(list)]++
			}
		}
	}
	return faces
}

// kept lists the pieces that close nothing and cannot leave the finished model in any
// direction measured.
func (h *holder) kept() []int {
	free := make([]bool, len(h.in))
	for i := range h.list {
		for _, c := range h.list[i].Closers {
			free[c.Piece] = free[c.Piece] || !c.within
		}
	}
	for _, byPiece := range h.m.InTheWay() {
		for p, blockers := range byPiece {
			free[p] = free[p] || len(blockers) == 0
		}
	}
	return slices.DeleteFunc(h.m.all(), func(p int) bool { return free[p] })
}

// bounds reports whether a piece is a plate that fills much of the section of a hollow.
func (h *holder) bounds(p, in int) bool {
	axis, flat := h.m.plateAxis(p)
	size := h.m.Pieces[p].Size()
	return flat && size[(axis+1)%3]*size[(axis+2)%3] >= floorShare*h.list[in].section[axis]
}

// behind reports whether a piece lies against the wall of a hollow from within, as a window
// with a flange does.
func (h *holder) behind(p, in int) bool {
	for axis := range 3 {
		side := 1
		if h.m.Pieces[p].Box.Centre()[axis] > h.list[in].Centre()[axis] {
			side = 0
		}
		if h.inner[p]>>(2*axis+side)&1 != 0 {
			return true
		}
	}
	return false
}

// most is the hollow that most of a piece is next to, -1 if it is next to none.
func (h *holder) most(p int) int {
	best := unheld
	for i := range h.list {
		if n := h.faces[p][i]; n > 0 && (best < 0 || n > h.faces[p][best]) {
			best = i
		}
	}
	return best
}

// larger is the largest furnished hollow that a good part of a piece is next to, or what
// stands in it.
func (h *holder) larger(p int) int {
	beside, all := h.around(p), 0.0
	for i, n := range h.faces[p] {
		if i < len(h.list) && h.furnished[i] {
			beside[i] += float64(n) * h.cell * h.cell
			all += beside[i]
		}
	}
	best := unheld
	for i := range h.list {
		if h.furnished[i] && beside[i] > (1-wholly)*all && (best < 0 || h.list[i].Volume > h.list[best].Volume) {
			best = i
		}
	}
	return best
}

// bury puts pieces that are next to hardly any air where most of what touches them is.
func (h *holder) bury(pieces []int) {
	for range pieces { // one may be buried in another
		more := false
		for _, p := range pieces {
			if h.in[p] == unheld {
				h.in[p] = h.among(p)
				more = more || h.in[p] != unheld
			}
		}
		if !more {
			return
		}
	}
}

// among is the hollow that holds most of what touches a piece, by contact; its own walls
// do not count.
func (h *holder) among(p int) int {
	area := h.around(p)
	best := unheld
	for i := range h.list {
		if area[i] > 0 && area[i] >= area[len(h.list)]-h.walls(p, i) && (best < 0 || area[i] > area[best]) {
			best = i
		}
	}
	return best
}

// walls is the area of a piece that touches the walls of a hollow, mm2.
func (h *holder) walls(p, in int) float64 {
	sum := 0.0
	for _, pair := range h.m.Pairs {
		if q := pair.A + pair.B - p; (pair.A == p || pair.B == p) && h.in[q] == unheld && h.faces[q][in] > 0 {
			sum += pair.Contact
		}
	}
	return sum
}

// around is the area of a piece that touches what each hollow holds, and what is in none,
// mm2.
func (h *holder) around(p int) []float64 {
	area := make([]float64, len(h.list)+1)
	for _, pair := range h.m.Pairs {
		q := pair.A + pair.B - p
		if pair.A != p && pair.B != p {
			continue
		}
		if i := h.in[q]; i >= 0 {
			area[i] += pair.Contact
		} else {
			area[len(h.list)] += pair.Contact
		}
	}
	return area
}
