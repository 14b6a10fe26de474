package demo_test

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"dryfit/kits/mesh"
)

// columns are parallel lines along an axis of the model, and what each passes: a
// slow and simple second opinion on what the geometry of the program finds.
type columns struct {
	axis  int
	lines map[[2]int32][]stretch
	of    [][][2]int32 // piece -> the lines that meet it
}

// stretch is where a line is inside a piece.
type stretch struct {
	piece    int
	from, to float64
}

// pitch is the distance between lines. They keep off the round numbers that faces
// stand on.
const (
	pitch   = 0.35
	offside = 0.0931
)

func along(t *testing.T, axis int, pieces [][]mesh.Triangle) *columns {
	t.Helper()
	c := &columns{axis, map[[2]int32][]stretch{}, make([][][2]int32, len(pieces))}
	for n, list := range pieces {
		hits := map[[2]int32][]float64{}
		for i := range list {
			scan(axis, &list[i], hits)
		}
		for at, w := range hits {
			if len(w)%2 != 0 {
				t.Fatalf("piece %d: a line along axis %d passes its surface %d times", n, axis, len(w))
			}
			slices.Sort(w)
			c.of[n] = append(c.of[n], at)
			for i := 0; i < len(w); i += 2 {
				c.lines[at] = append(c.lines[at], stretch{n, w[i], w[i+1]})
			}
		}
	}
	for _, s := range c.lines {
		slices.SortFunc(s, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	}
	return c
}

// scan notes where lines meet a triangle. Its sides are cut by each row of lines; a
// side that two triangles share is cut in the same place for both, so that a closed
// surface is met an even number of times.
func scan(axis int, t *mesh.Triangle, hits map[[2]int32][]float64) {
	u, v := (axis+1)%3, (axis+2)%3
	var p [3][3]float64
	low, high := math.Inf(1), math.Inf(-1)
	for c := range p {
		p[c] = [3]float64{float64(t[c][u]), float64(t[c][v]), float64(t[c][axis])}
		low, high = min(low, p[c][1]), max(high, p[c][1])
	}
	for row := first(low); row < first(high); row++ {
		y := place(row)
		var cut [][2]float64
		for c := range p {
			a, b := p[c], p[(c+1)%3]
			if (first(a[1]) <= row) == (first(b[1]) <= row) {
				continue
			}
			if slices.Compare(a[:], b[:]) > 0 {
				a, b = b, a
			}
			f := (y - a[1]) / (b[1] - a[1])
			cut = append(cut, [2]float64{a[0] + f*(b[0]-a[0]), a[2] + f*(b[2]-a[2])})
		}
		if len(cut) != 2 {
			continue
		}
		a, b := cut[0], cut[1]
		if a[0] > b[0] {
			a, b = b, a
		}
		for col := first(a[0]); col < first(b[0]); col++ {
			f := (place(col) - a[0]) / (b[0] - a[0])
			hits[[2]int32{col, row}] = append(hits[[2]int32{col, row}], a[1]+f*(b[1]-a[1]))
		}
	}
}

func place(i int32) float64 { return float64(i)*pitch + offside }

// first is the first line at or after a place.
func first(x float64) int32 { return int32(math.Ceil((x - offside) / pitch)) }

// at is a point on a line, in the model's axes.
func (c *columns) at(line [2]int32, w float64) (p [3]float64) {
	p[c.axis], p[(c.axis+1)%3], p[(c.axis+2)%3] = w, place(line[0]), place(line[1])
	return p
}

// within is the length along an axis, about a point, over which a line is inside.
func within(list []mesh.Triangle, axis int, p [3]float64) (from, to float64, inside bool) {
	var w []float64
	u, v := (axis+1)%3, (axis+2)%3
	for _, t := range list {
		if x, ok := meet(axis, u, v, &t, p); ok {
			w = append(w, x)
		}
	}
	slices.Sort(w)
	for i := 0; i+1 < len(w); i += 2 {
		if w[i] <= p[axis] && p[axis] <= w[i+1] {
			return w[i], w[i+1], true
		}
	}
	return 0, 0, false
}

func meet(axis, u, v int, t *mesh.Triangle, p [3]float64) (float64, bool) {
	side := func(a, b [3]float32) float64 {
		return (float64(b[u])-float64(a[u]))*(p[v]-float64(a[v])) - (float64(b[v])-float64(a[v]))*(p[u]-float64(a[u]))
	}
	a, b, c := side(t[1], t[2]), side(t[2], t[0]), side(t[0], t[1])
	if !(a >= 0 && b >= 0 && c >= 0) && !(a <= 0 && b <= 0 && c <= 0) || a+b+c == 0 {
		return 0, false
	}
	return (a*float64(t[0][axis]) + b*float64(t[1][axis]) + c*float64(t[2][axis])) / (a + b + c), true
}
