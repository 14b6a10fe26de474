package printing

import (
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Shape is the outline of the piece as it lies on the bed, in cells, and where its
// front left corner is, mm.
func (p *Placed) Shape() (m *Mask, corner [2]float64) {
	dx, dy := p.slack()
	return &p.Setting.Outline.stamp(p.Quarters).mask, [2]float64{p.X - dx, p.Y - dy}
}

// Rings are the borders of the area, in cells: outer ones counter-clockwise, those of
// holes clockwise. Steps of a cell are smoothed, so a border may be off by one.
func (m *Mask) Rings() [][][2]float64 {
	t := newTracer(m)
	var list [][][2]float64
	for y := range t.h {
		for x := range t.w {
			for t.full(x, y) && !t.full(x, y-1) && !t.seen[y*t.w+x] {
				list = append(list, smoothed(t.follow(x, y)))
			}
		}
	}
	return list
}

// tracer follows the borders between cells that are full and cells that are not.
type tracer struct {
	w, h  int
	cells []bool
	seen  []bool // front sides of cells that were followed
}

func newTracer(m *Mask) *tracer {
	t := &tracer{w: m.W, h: len(m.Rows)}
	t.cells, t.seen = make([]bool, t.w*t.h), make([]bool, t.w*t.h)
	for y, row := range m.Rows {
		for _, s := range row {
			for x := s.From; x < s.To; x++ {
				t.cells[y*t.w+x] = true
			}
		}
	}
	return t
}

func (t *tracer) full(x, y int) bool {
	return x >= 0 && y >= 0 && x < t.w && y < t.h && t.cells[y*t.w+x]
}

// follow goes along a border with what is full on the left, from the front side of a
// cell to the right, until it is back. Where two cells meet at a corner it turns left.
func (t *tracer) follow(x, y int) [][2]float64 {
	var ring [][2]float64
	at, dx, dy := [2]int{x, y}, 1, 0
	for first := true; first || at != [2]int{x, y} || dx != 1; first = false {
		if dx == 1 {
			t.seen[at[1]*t.w+at[0]] = true
		}
		ring = append(ring, [2]float64{float64(at[0]), float64(at[1])})
		at = [2]int{at[0] + dx, at[1] + dy}
		for _, turn := range [3][2]int{{-dy, dx}, {dx, dy}, {dy, -dx}} {
			if t.border(at, turn[0], turn[1]) {
				dx, dy = turn[0], turn[1]
				break
			}
		}
	}
	return ring
}

// border reports whether the line from a corner in a direction has a full cell on its
// left only.
func (t *tracer) border(at [2]int, dx, dy int) bool {
	left := [2]int{at[0] + min(dx, 0) + min(-dy, 0), at[1] + min(dy, 0) + min(dx, 0)}
	right := [2]int{at[0] + min(dx, 0) + min(dy, 0), at[1] + min(dy, 0) + min(-dx, 0)}
	return t.full(left[0], left[1]) && !t.full(right[0], right[1])
}

// stair is how far a smoothed border may be from that of the cells, in cells.
const stair = 0.8

// smoothed leaves out the points of a ring that are near to the line without them
// (U. Ramer, "An iterative procedure for the polygonal approximation of plane curves",
// Computer Graphics and Image Processing 1, 1972).
func smoothed(ring [][2]float64) [][2]float64 {
	far := 0
	for i := range ring {
		if distance(ring[i], ring[0]) > distance(ring[far], ring[0]) {
			far = i
		}
	}
	out := chain(ring[:far+1])
	rest := chain(append(slices.Clone(ring[far:]), ring[0]))
	return append(out[:len(out)-1], rest[:len(rest)-1]...)
}

func chain(list [][2]float64) [][2]float64 {
	if len(list) < 3 {
		return list
	}
	a, b := list[0], list[len(list)-1]
	at, most := 0, stair
	for i := 1; i < len(list)-1; i++ {
		if d := fromLine(list[i], a, b); d > most {
			at, most = i, d
		}
	}
	if at == 0 {
		return [][2]float64{a, b}
	}
	one := chain(list[:at+1])
	return append(one[:len(one)-1:len(one)-1], chain(list[at:])...)
}

func distance(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// fromLine is how far a point is from the line through two others.
func fromLine(p, a, b [2]float64) float64 {
	d := distance(a, b)
	if d == 0 {
		return distance(p, a)
	}
	return math.Abs(geom.Turn(a, b, p)) / d
}

// Widest is the rectangle of a height in cells that is widest within the area, for its
// name: its left end, its front and its width in cells; a width of 0 if there is none.
// Among equals it is the one nearest to the middle.
func (m *Mask) Widest(height int) (x, y, width int) {
	middle := func(front int) int { return max(2*front+height-len(m.Rows), len(m.Rows)-2*front-height) }
	for front := range len(m.Rows) - height + 1 {
		common := m.Rows[front]
		for _, row := range m.Rows[front+1 : front+height] {
			common = both(common, row)
		}
		for _, s := range common {
			if w := s.To - s.From; w > width || w == width && middle(front) < middle(y) {
				x, y, width = s.From, front, w
			}
		}
	}
	return x, y, width
}

// both is what is in each of two rows.
func both(a, b []Span) (out []Span) {
	for i, j := 0, 0; i < len(a) && j < len(b); {
		if s := (Span{max(a[i].From, b[j].From), min(a[i].To, b[j].To)}); s.From < s.To {
			out = append(out, s)
		}
		if a[i].To < b[j].To {
			i++
		} else {
			j++
		}
	}
	return out
}
