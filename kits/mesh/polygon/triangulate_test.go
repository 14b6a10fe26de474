package polygon

import (
	"math"
	"testing"

	"dryfit/kits/geom"
)

func area(ring []Point) (a float64) {
	for i, p := range ring {
		a += geom.Turn(ring[0], p, ring[(i+1)%len(ring)]) / 2
	}
	return math.Abs(a)
}

// Triangles face one way, use every corner, and have the area of the outline without its
// holes.
func TestTriangulate(t *testing.T) {
	square := func(x, y, a float64) []Point { return []Point{{x, y}, {x + a, y}, {x + a, y + a}, {x, y + a}} }
	for name, c := range map[string]struct {
		outline []Point
		holes   [][]Point
	}{
		"square":            {square(0, 0, 4), nil},
		"clockwise":         {Turned(square(0, 0, 4), false), nil},
		"arrow":             {[]Point{{0, 0}, {4, 2}, {0, 4}, {1, 2}}, nil},
		"comb":              {[]Point{{0, 0}, {5, 0}, {5, 3}, {4, 3}, {4, 1}, {3, 1}, {3, 3}, {2, 3}, {2, 1}, {1, 1}, {1, 3}, {0, 3}}, nil},
		"hole":              {square(0, 0, 4), [][]Point{square(1, 1, 2)}},
		"holes in a row":    {square(0, 0, 10), [][]Point{square(1, 4, 1), square(4, 4, 2), square(8, 4, 1)}},
		"holes one behind":  {square(0, 0, 10), [][]Point{square(2, 2, 2), Turned(square(5, 3, 1), false), square(2, 6, 3)}},
		"hole in the notch": {[]Point{{0, 0}, {9, 0}, {9, 9}, {6, 9}, {6, 6}, {0, 6}}, [][]Point{square(7, 7, 1), square(1, 1, 4)}},
	} {
		t.Run(name, func(t *testing.T) {
			list, err := Triangulate(c.outline, c.holes)
			if err != nil {
				t.Fatal(err)
			}
			want, corners := area(c.outline), len(c.outline)-2
			for _, h := range c.holes {
				want -= area(h)
				corners += len(h) + 2
			}
			got := 0.0
			for _, tri := range list {
				if s := geom.Turn(tri[0], tri[1], tri[2]); s <= 0 {
					t.Errorf("%v has the area %g", tri, s/2)
				} else {
					got += s / 2
				}
			}
			if len(list) != corners || math.Abs(got-want) > 1e-9 {
				t.Errorf("%d triangles of %g in all, want %d of %g", len(list), got, corners, want)
			}
		})
	}
}

// What is no outline, or a hole that does not lie in its outline, is an error.
func TestCrossing(t *testing.T) {
	square := []Point{{0, 0}, {4, 0}, {4, 4}, {0, 4}}
	for name, c := range map[string]struct {
		outline []Point
		holes   [][]Point
	}{
		"bow tie":        {[]Point{{0, 0}, {4, 4}, {4, 0}, {0, 4}}, nil},
		"line":           {[]Point{{0, 0}, {1, 0}, {2, 0}, {3, 0}}, nil},
		"hole too large": {square, [][]Point{{{-9, -9}, {9, -9}, {9, 9}, {-9, 9}}}},
	} {
		if list, err := Triangulate(c.outline, c.holes); err == nil {
			t.Errorf("%s: %v", name, list)
		}
	}
}
