package draw

import (
	"math"
	"strconv"
	"unicode/utf8"

	"dryfit/graphviz/picture"
)

const (
	letters    = 3.0  // mm, height of the letters of a label
	lettersFit = 0.62 // width of a letter for its height, on average
	covering   = 20   // cost of covering another label or an arrow, relative to covering the model
)

// rect is a rectangle on the picture, in mm.
type rect struct{ x, y, w, h float64 }

// rectangle is the ring of a rectangle between two corners.
func rectangle(x0, y0, x1, y1 float64) []picture.Point {
	return []picture.Point{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

func (r rect) overlaps(s rect) float64 {
	w := math.Min(r.x+r.w, s.x+s.w) - math.Max(r.x, s.x)
	h := math.Min(r.y+r.h, s.y+s.h) - math.Max(r.y, s.y)
	if w <= 0 || h <= 0 {
		return 0
	}
	return w * h
}

// labels writes the numbers of the new and of the emphasised pieces beside them, each with
// a line to its piece.
func (t *painter) labels() {
	var taken []rect
	if t.over {
		taken = append(taken, rect{0, 0, signSize, signSize})
	}
	for i := range t.fresh {
		taken = append(taken, onGuide(t.guide(i))...)
	}
	for i, text := range t.texts() {
		if text == "" {
			continue
		}
		if box, ok := t.spot(i, text, taken); ok {
			taken = append(taken, box)
			t.label(text, t.nearestOf(i, box), box)
		}
	}
}

// onGuide is the space that the corners and arrows of a guide line take.
func onGuide(line []picture.Point) []rect {
	var list []rect
	for k, p := range line {
		list = append(list, rect{p[0] - 2, p[1] - 2, 4, 4})
		if k == 0 {
			continue
		}
		if a, b, ok := shaft(line[k-1], p); ok {
			const half = 1.5 // of the width of an arrow
			list = append(list, rect{math.Min(a[0], b[0]) - half, math.Min(a[1], b[1]) - half,
				math.Abs(a[0]-b[0]) + 2*half, math.Abs(a[1]-b[1]) + 2*half})
		}
	}
	return list
}

// labelEdge is how near to the edge of the picture a label may come, in mm: within
// the frame of an enlarged one.
func (t *painter) labelEdge() float64 {
	if t.zoomed {
		return margin + 0.5
	}
	return 0.5
}

// texts are the labels of the movers, in order; equal ones are counted and written once.
func (t *painter) texts() []string {
	list := make([]string, len(t.movers))
	count, first := map[string]int{}, map[string]int{}
	for i, m := range t.movers {
		text := m.Label
		if i >= t.fresh {
			text = t.scene.Labels[m.Pieces[0]]
		}
		if count[text]++; count[text] == 1 {
			first[text] = i
			list[i] = text
		}
	}
	for text, n := range count {
		if n > 1 && text != "" {
			list[first[text]] = strconv.Itoa(n) + " × " + text
		}
	}
	return list
}

// spot finds a place for a label: near its piece, covering as little as possible.
func (t *painter) spot(i int, text string, taken []rect) (best rect, ok bool) {
	seen, any := t.visible(i)
	if !any {
		return rect{}, false
	}
	middle := picture.Point{seen.x + seen.w/2, seen.y + seen.h/2}
	w := float64(utf8.RuneCountInString(text))*letters*lettersFit + 1.6
	h := letters + 1.2
	least := math.Inf(1)
	for ring := range 5 {
		out := 2.5 + 4*float64(ring)
		for k := range 16 {
			s, c := math.Sincos(2 * math.Pi * float64(k) / 16)
			r := rect{middle[0] + c*(seen.w/2+out+w/2) - w/2, middle[1] + s*(seen.h/2+out+h/2) - h/2, w, h}
			if edge := t.labelEdge(); r.x < edge || r.y < edge || r.x+w > t.inner.Width-edge || r.y+h > t.inner.Height-edge {
				continue
			}
			cost := t.inkUnder(r) + 0.6*float64(ring)
			for _, o := range taken {
				cost += covering * r.overlaps(o)
			}
			if cost < least {
				least, best = cost, r
			}
		}
	}
	return best, !math.IsInf(least, 1)
}

// visible is where a mover shows on the picture.
func (t *painter) visible(i int) (seen rect, any bool) {
	b, mine := t.buffer, t.ids(i)
	x0, y0, x1, y1 := b.width, b.height, -1, -1
	for k, id := range b.id {
		if mine[id] {
			x, y := k%b.width, k/b.width
			x0, y0, x1, y1 = min(x0, x), min(y0, y), max(x1, x), max(y1, y)
		}
	}
	p, q := onPaper(picture.Point{float64(x0), float64(y0)}), onPaper(picture.Point{float64(x1 + 1), float64(y1 + 1)})
	return rect{p[0], p[1], q[0] - p[0], q[1] - p[1]}, x1 >= 0
}

func (t *painter) ids(i int) map[int32]bool {
	mine := map[int32]bool{}
	for _, th := range t.moved(i) {
		mine[th.id] = true
	}
	return mine
}

// inside is how far within the visible part of a piece the line of a label ends, in
// pixels.
const inside = 5

// nearestOf is the place of a mover nearest to its label, a little inside its border where
// it is thick enough for that.
func (t *painter) nearestOf(i int, r rect) picture.Point {
	b, mine := t.buffer, t.ids(i)
	c := inPixels(picture.Point{r.x + r.w/2, r.y + r.h/2})
	is := func(x, y int) bool { return x >= 0 && y >= 0 && x < b.width && y < b.height && mine[b.id[y*b.width+x]] }
	var best [2]picture.Point // thin, thick
	least := [2]float64{math.Inf(1), math.Inf(1)}
	for k, id := range b.id {
		if !mine[id] {
			continue
		}
		x, y := k%b.width, k/b.width
		d := math.Hypot(float64(x)-c[0], float64(y)-c[1])
		if d < least[0] {
			least[0], best[0] = d, picture.Point{float64(x) + 0.5, float64(y) + 0.5}
		}
		if d < least[1] && is(x-inside, y) && is(x+inside, y) && is(x, y-inside) && is(x, y+inside) {
			least[1], best[1] = d, picture.Point{float64(x) + 0.5, float64(y) + 0.5}
		}
	}
	if math.IsInf(least[1], 1) {
		return onPaper(best[0])
	}
	return onPaper(best[1])
}

// inkUnder is how many mm2 of the model a rectangle would cover.
func (t *painter) inkUnder(r rect) float64 {
	b := t.buffer
	n := 0
	const every = 4
	from, to := inPixels(picture.Point{r.x, r.y}), inPixels(picture.Point{r.x + r.w, r.y + r.h})
	for y := from[1]; y < to[1]; y += every {
		for x := from[0]; x < to[0]; x += every {
			ix, iy := int(x), int(y)
			if x >= 0 && y >= 0 && ix < b.width && iy < b.height && b.id[iy*b.width+ix] != 0 {
				n++
			}
		}
	}
	return float64(n) * every * every / (resolution * resolution)
}

// label writes a text in its box, with a line from the box to the piece.
func (t *painter) label(text string, to picture.Point, r rect) {
	c := picture.Point{r.x + r.w/2, r.y + r.h/2}
	from := c
	if l := distance(c, to); l > 0 {
		// where the line leaves the box
		d := direction(c, to)
		k := math.Min(r.w/2/math.Max(math.Abs(d[0]), 1e-9), r.h/2/math.Max(math.Abs(d[1]), 1e-9))
		from = step(c, d, math.Min(k, l))
	}
	t.mark(picture.Mark{Paths: [][]picture.Point{{from, to}}, Stroke: "#ffffff", Width: 0.8})
	t.mark(picture.Mark{Paths: [][]picture.Point{{from, to}}, Stroke: ink, Width: 0.18})
	t.mark(picture.Mark{Paths: [][]picture.Point{circle(to, 0.4)}, Closed: true, Fill: ink})
	t.mark(picture.Mark{Paths: [][]picture.Point{rectangle(r.x, r.y, r.x+r.w, r.y+r.h)}, Closed: true, Fill: "#ffffff"})
	t.mark(picture.Mark{Paths: [][]picture.Point{{{c[0], c[1] + 0.36*letters}}}, Text: text, Size: letters, Bold: true, Anchor: "middle", Fill: ink})
}
