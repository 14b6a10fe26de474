package blocking

import (
	"cmp"
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Hollow is air inside the model that nothing larger than its mouth can leave.
type Hollow struct {
	geom.Box         // mm
	Volume   float64 // mm3
	Closers  []HollowCloser
	Holds    []int // pieces that touch its air and no other
}

// HollowCloser is a piece between a hollow and the outside.
type HollowCloser struct {
	Piece   int
	Axis    int     // along which it closes
	Share   float64 // the share of the hollow's cross-section that it closes
	Opening         // while it is off
}

const (
	hollowCells = 128    // of the model's longest side
	mouthShare  = 0.012  // of the model's diagonal: smaller openings count as closed
	smallHollow = 0.0005 // of the model's box: anything smaller is ignored
	wholeSide   = 0.5    // of the section: more than this is a whole side
)

// WholeSide reports whether a closer leaves a whole side open while it is off.
func (c *HollowCloser) WholeSide() bool { return c.Share > wholeSide }

// Hollows finds the hollows of the model, the largest first, and the width in mm
// below which an opening counted as closed. It fills a grid with the pieces,
// floods it from outside as far as a ball of that width gets, and takes what is
// left.
func (m *Model) Hollows(ctx context.Context) ([]Hollow, float64, error) {
	all := m.all()
	if len(all) == 0 {
		return nil, 0, nil
	}
	r, err := m.room(ctx, all)
	if err != nil {
		return nil, 0, err
	}
	size := m.box(all).Size()
	mouth := max(size.Length()*mouthShare, 3*r.cell)
	room := size[0] * size[1] * size[2]
	r.flood(int(math.Ceil(mouth / 2 / r.cell)))
	var list []Hollow
	for _, cells := range r.pockets() {
		volume := float64(len(cells)) * r.cell * r.cell * r.cell
		if volume < max(4*mouth*mouth*mouth, smallHollow*room) {
			continue
		}
		h := r.hollow(cells)
		h.Volume = volume
		for i := range h.Closers {
			if err := m.measureOpening(ctx, &h, i, r.beside(cells)); err != nil {
				return nil, 0, err
			}
		}
		h.Closers = slices.DeleteFunc(h.Closers, func(c HollowCloser) bool { return c.W == 0 || c.H == 0 })
		list = append(list, h)
	}
	slices.SortFunc(list, func(a, b Hollow) int {
		return cmp.Or(cmp.Compare(b.Volume, a.Volume), slices.Compare(a.Min[:], b.Min[:]))
	})
	return list, mouth, nil
}

// measureOpening measures what a closer leaves open, between the other pieces
// around the hollow.
func (m *Model) measureOpening(ctx context.Context, h *Hollow, i int, around []int) error {
	c := &h.Closers[i]
	var walls []int
	for _, p := range around {
		if p != c.Piece && !slices.Contains(h.Holds, p) {
			walls = append(walls, p)
		}
	}
	var err error
	c.Opening, err = m.Opening(ctx, c.Piece, c.Axis, h.Centre()[c.Axis], walls, [2]float64{})
	return err
}

// room is a grid of cells over the model, with a margin of air around it.
type room struct {
	cell   float64
	origin geom.Vec
	n      [3]int
	piece  []int32 // in each cell, plus one; 0 for air
	// pocketOf says what each cell of air belongs to.
	pocketOf []int32
}

// What a cell of air belongs to: a pocket, by its number, or one of these.
const (
	unknown int32 = -1
	outside int32 = -2
)

func (r *room) index(at [3]int) int { return (at[2]*r.n[1]+at[1])*r.n[0] + at[0] }

func (r *room) at(i int) [3]int {
	return [3]int{i % r.n[0], i / r.n[0] % r.n[1], i / (r.n[0] * r.n[1])}
}

// room fills a grid with the pieces: a cell is filled where a line through its
// middle, along any of the axes, is within a piece in it, no matter how thin.
func (m *Model) room(ctx context.Context, which []int) (*room, error) {
	box := m.box(which)
	size := box.Size()
	cell := max(size[0], size[1], size[2]) / hollowCells
	if cell == 0 {
		cell = m.Pitch
	}
	const margin = 8
	r := &room{cell: cell}
	for k := range 3 {
		r.n[k] = int(size[k]/cell) + 1 + 2*margin
		r.origin[k] = box.Min[k] - margin*cell
	}
	r.piece = make([]int32, r.n[0]*r.n[1]*r.n[2])
	r.pocketOf = fill(len(r.piece), unknown)
	for axis := range 3 {
		if err := m.fillRoom(ctx, r, which, axis); err != nil {
			return nil, err
		}
	}
	return r, nil
}

func (m *Model) fillRoom(ctx context.Context, r *room, which []int, axis int) error {
	var u, v, w geom.Vec
	i, k := (axis+1)%3, (axis+2)%3
	u[i], v[k], w[axis] = 1, 1, 1
	seen := &view{u: u, v: v, w: w, pitch: r.cell,
		u0: r.origin[i]/r.cell + 0.5137, v0: r.origin[k]/r.cell + 0.4873, // not on round numbers
		cols: r.n[i], rows: r.n[k],
		w0: r.origin[axis], step: float64(r.n[axis]) * r.cell / depthCode}
	return m.workers.lines(ctx, seen, area{0, 0, seen.cols, seen.rows}, m.Pieces, which, func(x, y int, col *column) {
		var at [3]int
		at[i], at[k] = x, y
		for _, st := range col.stretches {
			from := int(float64(st.enter) * seen.step / r.cell)
			to := int(float64(st.leave) * seen.step / r.cell)
			for z := from; z <= min(to, r.n[axis]-1); z++ {
				at[axis] = z
				r.piece[r.index(at)] = st.piece + 1
			}
		}
	})
}

func fill(n int, with int32) []int32 {
	list := make([]int32, n)
	for i := range list {
		list[i] = with
	}
	return list
}

// neighbours calls do with the cells next to a cell.
func (r *room) neighbours(i int, do func(int)) {
	at := r.at(i)
	stride := [3]int{1, r.n[0], r.n[0] * r.n[1]}
	for k := range 3 {
		if at[k] > 0 {
			do(i - stride[k])
		}
		if at[k] < r.n[k]-1 {
			do(i + stride[k])
		}
	}
}

// spread grows from some cells to the neighbours that enter accepts, and lists
// all cells reached.
func (r *room) spread(cells []int32, enter func(from, to int) bool) []int32 {
	for n := 0; n < len(cells); n++ {
		from := int(cells[n])
		r.neighbours(from, func(to int) {
			if enter(from, to) {
				cells = append(cells, int32(to))
			}
		})
	}
	return cells
}

// claim assigns a cell of air to a pocket, or to the outside, unless it is
// assigned already.
func (r *room) claim(cell int, pocket int32) bool {
	if r.pocketOf[cell] != unknown || r.piece[cell] != 0 {
		return false
	}
	r.pocketOf[cell] = pocket
	return true
}

// flood marks what a ball of the given radius, in cells, reaches from outside.
func (r *room) flood(radius int) {
	far := r.distances()
	const corner = 0 // of the margin
	r.pocketOf[corner] = outside
	edge := r.spread([]int32{corner}, func(_, to int) bool { return int(far[to]) > radius && r.claim(to, outside) })
	// The ball also covers the air around its centre.
	for range radius {
		var next []int32
		for _, c := range edge {
			r.neighbours(int(c), func(to int) {
				if r.claim(to, outside) {
					next = append(next, int32(to))
				}
			})
		}
		edge = next
	}
}

// distances gives the steps from each cell to the nearest filled one, up to 255.
func (r *room) distances() []uint8 {
	far := make([]uint8, len(r.piece))
	var filled []int32
	for i, p := range r.piece {
		if far[i] = math.MaxUint8; p != 0 {
			far[i] = 0
			filled = append(filled, int32(i))
		}
	}
	r.spread(filled, func(from, to int) bool {
		if far[from] == math.MaxUint8-1 || far[to] <= far[from]+1 {
			return false
		}
		far[to] = far[from] + 1
		return true
	})
	return far
}

// pockets lists the connected air that was not reached.
func (r *room) pockets() [][]int32 {
	var list [][]int32
	for start := range r.piece {
		if number := int32(len(list)); r.claim(start, number) {
			list = append(list, r.spread([]int32{int32(start)}, func(_, to int) bool { return r.claim(to, number) }))
		}
	}
	return list
}

// beside lists the pieces around or in a pocket.
func (r *room) beside(cells []int32) []int {
	seen := map[int32]bool{}
	for _, c := range cells {
		r.neighbours(int(c), func(i int) {
			if p := r.piece[i]; p > 0 {
				seen[p-1] = true
			}
		})
	}
	var list []int
	for p := range seen {
		list = append(list, int(p))
	}
	slices.Sort(list)
	return list
}

// hollow describes a pocket.
func (r *room) hollow(cells []int32) Hollow {
	h := Hollow{}
	lowest, highest := r.at(int(cells[0])), r.at(int(cells[0]))
	for _, c := range cells {
		at := r.at(int(c))
		for k := range 3 {
			lowest[k], highest[k] = min(lowest[k], at[k]), max(highest[k], at[k])
		}
	}
	for k := range 3 {
		h.Min[k] = r.origin[k] + float64(lowest[k])*r.cell
		h.Max[k] = r.origin[k] + float64(highest[k]+1)*r.cell
	}
	h.Closers = r.closers(cells)
	for _, p := range r.beside(cells) {
		closes := slices.ContainsFunc(h.Closers, func(c HollowCloser) bool { return c.Piece == p })
		if !closes && !r.reachesOut(int32(p), cells) {
			h.Holds = append(h.Holds, p)
		}
	}
	return h
}

// reachesOut reports whether a piece also touches air outside the pocket.
func (r *room) reachesOut(p int32, cells []int32) bool {
	own := r.pocketOf[cells[0]]
	for i := range r.piece {
		if r.piece[i] != p+1 {
			continue
		}
		out := false
		r.neighbours(i, func(n int) { out = out || r.piece[n] == 0 && r.pocketOf[n] != own })
		if out {
			return true
		}
	}
	return false
}

// closers lists the pieces that lie between a pocket and the outside: going from
// the pocket along an axis, the piece comes first and then the outside. Each
// comes with the axis along which it closes most.
func (r *room) closers(cells []int32) []HollowCloser {
	stride := [3]int{1, r.n[0], r.n[0] * r.n[1]}
	best := map[int32]HollowCloser{}
	for axis := range 3 {
		section := 0
		seen := make([]bool, len(r.piece)/r.n[axis])
		for _, sign := range []int{-1, 1} {
			closed := map[int32]map[int]bool{} // piece -> columns
			for _, c := range cells {
				at := r.at(int(c))
				column := r.column(at, axis)
				if !seen[column] {
					seen[column] = true
					section++
				}
				i, z := int(c)+sign*stride[axis], at[axis]+sign
				p := r.piece[i]
				if p == 0 || closed[p] != nil && closed[p][column] {
					continue
				}
				for z >= 0 && z < r.n[axis] && r.piece[i] == p {
					i += sign * stride[axis]
					z += sign
				}
				if z < 0 || z >= r.n[axis] || r.piece[i] == 0 && r.pocketOf[i] == outside {
					if closed[p] == nil {
						closed[p] = map[int]bool{}
					}
					closed[p][column] = true
				}
			}
			for p, columns := range closed {
				share := float64(len(columns)) / float64(max(section, 1))
				if b, known := best[p]; !known || share > b.Share {
					best[p] = HollowCloser{Piece: int(p) - 1, Axis: axis, Share: share}
				}
			}
		}
	}
	var list []HollowCloser
	for _, c := range best {
		if c.Share > closerShare {
			list = append(list, c)
		}
	}
	slices.SortFunc(list, func(a, b HollowCloser) int { return a.Piece - b.Piece })
	return list
}

// column numbers the line of cells along an axis through one.
func (r *room) column(at [3]int, axis int) int {
	i, k := (axis+1)%3, (axis+2)%3
	return at[k]*r.n[i] + at[i]
}

// closerShare of a hollow's section must lie behind a piece for it to close it.
const closerShare = 0.02
