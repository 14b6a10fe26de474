package draw

import (
	"math"
	"math/rand/v2"
	"testing"

	"dryfit/graphviz/picture"
)

// grid is a mask that can be written down.
type grid struct {
	mask []bool
	w, h int
}

// drawing reads rows of dots and marks.
func drawing(rows ...string) grid {
	g := grid{w: len(rows[0]), h: len(rows)}
	for _, row := range rows {
		for _, c := range row {
			g.mask = append(g.mask, c == '#')
		}
	}
	return g
}

// by makes a mask by asking for the middle of each pixel.
func by(w, h int, in func(x, y float64) bool) grid {
	g := grid{make([]bool, w*h), w, h}
	for i := range g.mask {
		g.mask[i] = in(float64(i%w)+0.5, float64(i/w)+0.5)
	}
	return g
}

func (g grid) at(x, y int) bool { return x >= 0 && y >= 0 && x < g.w && y < g.h && g.mask[y*g.w+x] }

func (g grid) count() int {
	n := 0
	for _, m := range g.mask {
		if m {
			n++
		}
	}
	return n
}

// perimeter is the length of the border between what is in the mask and what is not.
func (g grid) perimeter() int {
	n := 0
	for y := 0; y <= g.h; y++ {
		for x := 0; x <= g.w; x++ {
			if g.at(x, y) != g.at(x-1, y) {
				n++
			}
			if g.at(x, y) != g.at(x, y-1) {
				n++
			}
		}
	}
	return n
}

// deep reports whether all pixels for so many round one are as it is.
func (g grid) deep(x, y, by int) bool {
	for v := y - by; v <= y+by; v++ {
		for u := x - by; u <= x+by; u++ {
			if g.at(u, v) != g.at(x, y) {
				return false
			}
		}
	}
	return true
}

// crossings counts how often rings cross the line from a place to the right.
func crossings(rings [][]picture.Point, x, y float64) int {
	n := 0
	for _, ring := range rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			if (p[1] > y) != (q[1] > y) && p[0]+(y-p[1])/(q[1]-p[1])*(q[0]-p[0]) > x {
				n++
			}
		}
	}
	return n
}

// signed is the sum of the areas of rings, of which those that turn the other way,
// holes, count as negative.
func signed(rings [][]picture.Point) float64 {
	sum := 0.0
	for _, ring := range rings {
		for i, p := range ring {
			q := ring[(i+1)%len(ring)]
			sum += (p[0]*q[1] - q[0]*p[1]) / 2
		}
	}
	return sum
}

// agree holds contours against the mask: each pixel that is two pixels from a border is
// in or out by the even-odd rule as it is in the mask, no point lies more than a pixel
// from a border, and the area differs by no more than 0.7 pixels all along the border.
func agree(t *testing.T, what string, g grid) {
	t.Helper()
	rings := contours(g.mask, g.w, g.h)
	for y := range g.h {
		for x := range g.w {
			if !g.deep(x, y, 2) {
				continue
			}
			if in := crossings(rings, float64(x)+0.5, float64(y)+0.5)%2 == 1; in != g.at(x, y) {
				t.Errorf("%s: the pixel %d, %d is %v, want %v", what, x, y, in, g.at(x, y))
				return
			}
		}
	}
	for _, ring := range rings {
		for _, p := range ring {
			if p[0] < 0 || p[1] < 0 || p[0] > float64(g.w) || p[1] > float64(g.h) || g.deep(int(p[0]), int(p[1]), 1) && g.deep(int(p[0]-0.01), int(p[1]-0.01), 1) {
				t.Errorf("%s: the point %v is not on a border", what, p)
				return
			}
		}
	}
	area, want, border := signed(rings), float64(g.count()), float64(g.perimeter())
	if math.Abs(area-want) > 0.7*border {
		t.Errorf("%s: the area is %.1f, want %.0f, with a border of %.0f", what, area, want, border)
	}
}

func TestContoursOfShapes(t *testing.T) {
	disc := func(x0, y0, r float64) func(x, y float64) bool {
		return func(x, y float64) bool { return math.Hypot(x-x0, y-y0) < r }
	}
	for what, g := range map[string]grid{
		"empty":                by(7, 5, func(x, y float64) bool { return false }),
		"full":                 by(40, 30, func(x, y float64) bool { return true }),
		"nothing at all":       {nil, 0, 0},
		"one pixel, full":      {[]bool{true}, 1, 1},
		"level rectangle":      by(60, 40, func(x, y float64) bool { return x > 10 && x < 50 && y > 10 && y < 30 }),
		"disc":                 by(60, 60, disc(30, 30, 25)),
		"disc beyond the edge": by(60, 60, disc(55, 8, 25)),
		"ring":                 by(60, 60, func(x, y float64) bool { return disc(30, 30, 25)(x, y) && !disc(30, 30, 12)(x, y) }),
		"ring with a disc in it": by(60, 60, func(x, y float64) bool {
			return disc(30, 30, 25)(x, y) && !disc(30, 30, 15)(x, y) || disc(30, 30, 7)(x, y)
		}),
		"frame": by(60, 60, func(x, y float64) bool { return !(x > 20 && x < 40 && y > 20 && y < 40) }),
		"two that touch at a corner": by(60, 60, func(x, y float64) bool {
			return x > 10 && x < 30 && y > 10 && y < 30 || x > 30 && x < 50 && y > 30 && y < 50
		}),
		"two holes that touch at a corner": by(60, 60, func(x, y float64) bool {
			return !(x > 10 && x < 30 && y > 30 && y < 50 || x > 30 && x < 50 && y > 10 && y < 30)
		}),
		"slanted band": by(60, 60, func(x, y float64) bool { return math.Abs(y-0.37*x-15) < 6 }),
	} {
		agree(t, what, g)
	}
}

// Shapes of straight sides and round ones, laid over each other so that they make holes,
// islands and touching corners.
func TestContoursOfRandomMasks(t *testing.T) {
	for seed := range uint64(200) {
		r := random(seed)
		w, h := 1+r.IntN(80), 1+r.IntN(80)
		mask := make([]bool, w*h)
		for range 1 + r.IntN(6) {
			cut := randomCut(r, float64(w), float64(h))
			for i := range mask {
				mask[i] = mask[i] != cut(float64(i%w)+0.5, float64(i/w)+0.5)
			}
		}
		agree(t, "shapes", grid{mask, w, h})
		share := r.Float64()
		for i := range mask {
			mask[i] = r.Float64() < share
		}
		agree(t, "noise", grid{mask, w, h})
		for i := range mask {
			mask[i] = (i%w+i/w)%2 == 0
		}
		agree(t, "chequered", grid{mask, w, h})
	}
}

// randomCut is a level rectangle, a half plane or a disc.
func randomCut(r *rand.Rand, w, h float64) func(x, y float64) bool {
	x0, y0, x1, y1 := w*r.Float64(), h*r.Float64(), w*r.Float64(), h*r.Float64()
	switch r.IntN(3) {
	case 0:
		return func(x, y float64) bool { return (x > x0) != (x > x1) && (y > y0) != (y > y1) }
	case 1:
		return func(x, y float64) bool { return (x-x0)*(y1-y0) > (y-y0)*(x1-x0) }
	}
	return func(x, y float64) bool { return math.Hypot(x-x0, y-y0) < math.Hypot(x1-x0, y1-y0)/2 }
}

// Areas that touch at a corner are rings of their own, each the way round that areas
// have; so are lines one pixel wide, however they run.
func TestContoursCount(t *testing.T) {
	for _, c := range []struct {
		what  string
		g     grid
		rings int
	}{
		{"two that touch falling", drawing("##..", "##..", "..##", "..##"), 2},
		{"two that touch rising", drawing("..##", "..##", "##..", "##.."), 2},
		{"a hole", drawing("#####", "#...#", "#...#", "#...#", "#####"), 2},
		{"level line", drawing(".......", ".#####.", "......."), 1},
		{"upright line", drawing("...", ".#.", ".#.", ".#.", ".#.", "..."), 1},
		{"pixels in a row that touch at corners", drawing("#...", ".#..", "..#.", "...#"), 4},
		{"a line round a corner", drawing("#####", "....#", "....#"), 1},
	} {
		rings := contours(c.g.mask, c.g.w, c.g.h)
		if len(rings) != c.rings {
			t.Errorf("%s: %d rings, want %d: %v", c.what, len(rings), c.rings, rings)
		}
		agree(t, c.what, c.g)
	}
}

// The stairs of the pixels do not show: straight sides have few points between their
// ends, however they run, and the points of a disc lie on its circle.
func TestContoursAreSmooth(t *testing.T) {
	for k := range 90 {
		s, c := math.Sincos(float64(k) * math.Pi / 90)
		g := by(300, 300, func(x, y float64) bool {
			x, y = x-150, y-150
			return math.Abs(x*c+y*s) < 100 && math.Abs(y*c-x*s) < 60
		})
		if rings := contours(g.mask, g.w, g.h); len(rings) != 1 || len(rings[0]) > 20 {
			t.Errorf("a rectangle turned by %d degrees: %d rings, of %d points", 2*k, len(rings), len(rings[0]))
		}
	}
	disc := by(300, 300, func(x, y float64) bool { return math.Hypot(x-150, y-150) < 120 })
	for _, p := range contours(disc.mask, disc.w, disc.h)[0] {
		if r := math.Hypot(p[0]-150, p[1]-150); math.Abs(r-120) > 1 {
			t.Errorf("the point %v is %.2f from the middle, want 120", p, r)
		}
	}
}
