package blocking

import (
	"cmp"
	"math"
	"slices"
)

// sightline is what lies between a hollow and the outside, along lines of cells in one
// direction: the pieces, from within.
type sightline struct {
	direction int
	inside    bool // it does not lead outside, but to another hollow
	pieces    []uint16
	lines     int
}

const (
	maxSightline = 6    // pieces between a hollow and the outside that are told apart
	coveredShare = 0.15 // of one side of a piece that lies against a larger one: it is lining or window, no wall; ours
)

// hollow describes a pocket, but for what it holds; open is the share of its walls
// through which the outside is seen.
func (r *room) hollow(m *Model, cells []int32, inner []uint8) (h Hollow, open float64) {
	h = Hollow{Box: r.boxOf(cells), Volume: r.volume(len(cells))}
	lines, section, walls, gaps := r.sightlines(cells)
	for k := range section {
		h.section[k] = float64(section[k]) * r.cell * r.cell
	}
	h.Closers = m.closers(lines, section, inner)
	for i := range h.Closers {
		h.Closers[i].whole = m.wholeSide(&h, &h.Closers[i], lines)
	}
	return h, float64(gaps) / float64(max(walls+gaps, 1))
}

// sightlines goes from each cell of a pocket that is beside a piece outwards. section is
// the cross-section of the pocket along each axis, walls and gaps its surface, in cells.
func (r *room) sightlines(cells []int32) (list []sightline, section [3]int, walls, gaps int) {
	own := r.pocket[cells[0]]
	byName := map[[maxSightline + 2]uint16]int{}
	columns := [3]map[[2]int]bool{{}, {}, {}}
	for _, c := range cells {
		at := r.at(int(c))
		for direction := range 6 {
			axis := direction / 2
			to := r.next(int(c), direction)
			switch {
			case to >= 0 && r.pocket[to] == own:
				continue
			case to < 0 || r.piece[to] == 0 && !r.isInside(to):
				gaps++
			case r.piece[to] > 0:
				walls++
			}
			columns[axis][[2]int{at[(axis+1)%3], at[(axis+2)%3]}] = true
			if name, end := r.outward(int(c), direction, own); end != nowhere {
				i, known := byName[name]
				if !known {
					i = len(list)
					byName[name] = i
					line := sightline{direction: direction, inside: end == elsewhere}
					for _, p := range name[1 : maxSightline+1] {
						if p > 0 {
							line.pieces = append(line.pieces, p-1)
						}
					}
					list = append(list, line)
				}
				list[i].lines++
			}
		}
	}
	for k := range section {
		section[k] = len(columns[k])
	}
	return list, section, walls, gaps
}

// Where a line of cells from a hollow leads.
type end uint16

const (
	nowhere end = iota // back into the same hollow, or through too many pieces
	outdoors
	elsewhere // into another hollow
)

// outward names the direction, the pieces from a cell outwards, and where they lead.
func (r *room) outward(from, direction int, own int32) (name [maxSightline + 2]uint16, to end) {
	name[0] = uint16(direction)
	n := 0
	for i := r.next(from, direction); ; i = r.next(i, direction) {
		switch {
		case i < 0 || r.piece[i] == 0 && !r.isInside(i):
			to = outdoors
		case r.piece[i] == 0 && r.pocket[i] >= 0 && r.pocket[i] != own:
			to = elsewhere
		case r.piece[i] == 0 && r.pocket[i] == own:
			return name, nowhere
		case r.piece[i] > 0 && !slices.Contains(name[1:n+1], r.piece[i]):
			if n == maxSightline {
				return name, nowhere
			}
			n++
			name[n] = r.piece[i]
		}
		if to != nowhere {
			if n == 0 {
				return name, nowhere
			}
			name[maxSightline+1] = uint16(to)
			return name, to
		}
	}
}

// closers lists the pieces that are alone between a pocket and the outside somewhere; the
// inner ones are none and do not count. Where there is but one, as in a hull of one piece,
// what shuts a whole side toward another hollow closes it too.
func (m *Model) closers(lines []sightline, section [3]int, inner []uint8) []HollowCloser {
	list := closersOf(lines, section, inner, false)
	if len(list) == 1 {
		for _, c := range closersOf(lines, section, inner, true) {
			if c.Share > wholeSide && c.Piece != list[0].Piece {
				c.within = true
				list = append(list, c)
			}
		}
	}
	slices.SortFunc(list, func(a, b HollowCloser) int { return cmp.Compare(a.Piece, b.Piece) })
	return list
}

// closersOf lists the pieces that are alone on lines to the outside, or to other hollows,
// each with the axis along which it closes most.
func closersOf(lines []sightline, section [3]int, inner []uint8, inside bool) []HollowCloser {
	alone := map[uint16]*[6]int{}
	for _, l := range lines {
		walls := slices.DeleteFunc(slices.Clone(l.pieces), func(p uint16) bool { return inner[p]>>l.direction&1 != 0 })
		if len(walls) != 1 || l.inside != inside {
			continue
		}
		if alone[walls[0]] == nil {
			alone[walls[0]] = &[6]int{}
		}
		alone[walls[0]][l.direction] += l.lines
	}
	var list []HollowCloser
	for p, n := range alone {
		best := HollowCloser{Piece: int(p)}
		for direction := range 6 {
			if share := float64(n[direction]) / float64(max(section[direction/2], 1)); share > best.Share {
				best.Axis, best.Share = direction/2, share
			}
		}
		if best.Share > closerShare {
			list = append(list, best)
		}
	}
	slices.SortFunc(list, func(a, b HollowCloser) int { return cmp.Compare(a.Piece, b.Piece) })
	return list
}

// wholeSide reports whether a closer of a hollow closes a whole side of it.
func (m *Model) wholeSide(h *Hollow, c *HollowCloser, lines []sightline) bool {
	if c.Share > wholeSide {
		return true
	}
	own, all := [2]int{}, [2]int{}
	for _, l := range lines {
		if l.direction/2 != c.Axis || l.inside {
			continue
		}
		all[l.direction%2] += l.lines
		if slices.Contains(l.pieces, uint16(c.Piece)) {
			own[l.direction%2] += l.lines
		}
	}
	for side := range all {
		if float64(own[side]) > mostOfSide*float64(all[side]) {
			return true
		}
	}
	box := m.Pieces[c.Piece].Box
	for _, k := range []int{(c.Axis + 1) % 3, (c.Axis + 2) % 3} {
		if min(box.Max[k], h.Max[k])-max(box.Min[k], h.Min[k]) >= edgeToEdge*(h.Max[k]-h.Min[k]) {
			return true
		}
	}
	return false
}

// inner marks for each piece the directions in which a larger one lies against a good part
// of it: outwards it is lining, or a window with a flange, and no wall.
func (m *Model) inner(faces []Faces) []uint8 {
	inner := make([]uint8, len(m.Pieces))
	for i, pair := range m.Pairs {
		for axis := range 3 {
			for side, area := range faces[i][axis] {
				p, direction := pair.A, 2*axis+side
				if m.boxRoom(pair.A) > m.boxRoom(pair.B) {
					p, direction = pair.B, 2*axis+1-side
				}
				size := m.Pieces[p].Size()
				if area >= coveredShare*size[(axis+1)%3]*size[(axis+2)%3] {
					inner[p] |= 1 << direction
				}
			}
		}
	}
	return inner
}

// boxRoom is the volume of the box of a piece, mm3.
func (m *Model) boxRoom(p int) float64 {
	size := m.Pieces[p].Size()
	return size[0] * size[1] * size[2]
}

// wall is the thickness of the thinnest wall of a hollow, mm.
func (m *Model) wall(h *Hollow) float64 {
	least := math.Inf(1)
	for _, c := range h.Closers {
		least = min(least, thickness(m.Pieces[c.Piece]))
	}
	return least
}
