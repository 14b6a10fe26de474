package draw

import (
	"math"

	"dryfit/graphviz/picture"
)

// chains joins fragments end to end where exactly two meet, so that a line is one
// line, and leaves out points that do not bend it.
func chains(list []fragment) [][]picture.Point {
	at := map[int32][]int32{} // corner -> the fragments that end there
	for k, r := range list {
		if r.i >= 0 {
			at[r.i] = append(at[r.i], int32(k))
		}
		if r.j >= 0 {
			at[r.j] = append(at[r.j], int32(k))
		}
	}
	used := make([]bool, len(list))
	var out [][]picture.Point
	walk := func(k int, reverse bool) []picture.Point {
		var line []picture.Point
		for {
			used[k] = true
			r := list[k]
			if reverse {
				r = fragment{r.to, r.from, r.j, r.i}
			}
			if line == nil {
				line = append(line, picture.Point{float64(r.from.x), float64(r.from.y)})
			}
			line = append(line, picture.Point{float64(r.to.x), float64(r.to.y)})
			next := -1
			if r.j >= 0 && len(at[r.j]) == 2 {
				for _, m := range at[r.j] {
					if !used[m] {
						next = int(m)
					}
				}
			}
			if next < 0 {
				return line
			}
			k, reverse = next, list[next].i != r.j
		}
	}
	end := func(i int32) bool { return i < 0 || len(at[i]) != 2 }
	for pass := range 2 { // first the lines that have ends, then the rings
		for k, r := range list {
			if used[k] || pass == 0 && !end(r.i) && !end(r.j) {
				continue
			}
			line := walk(k, pass == 0 && !end(r.i))
			if len(line) > 2 || distance(line[0], line[len(line)-1]) > 0 {
				out = append(out, simplified(line, 0.3))
			}
		}
	}
	return out
}

func distance(a, b picture.Point) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

// simplified leaves out the points of a line that are within a distance of what
// remains: Douglas and Peucker, "Algorithms for the reduction of the number of
// points required to represent a digitized line or its caricature", Cartographica 10
// (1973).
func simplified(line []picture.Point, within float64) []picture.Point {
	if len(line) < 3 {
		return line
	}
	keep := make([]bool, len(line))
	keep[0], keep[len(line)-1] = true, true
	stack := [][2]int{{0, len(line) - 1}}
	for len(stack) > 0 {
		s := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		far, at := within, -1
		for i := s[0] + 1; i < s[1]; i++ {
			if d := offLine(line[i], line[s[0]], line[s[1]]); d > far {
				far, at = d, i
			}
		}
		if at >= 0 {
			keep[at] = true
			stack = append(stack, [2]int{s[0], at}, [2]int{at, s[1]})
		}
	}
	out := line[:0:0]
	for i, p := range line {
		if keep[i] {
			out = append(out, p)
		}
	}
	return out
}

// offLine is how far a point is from a stretch of line.
func offLine(p, a, b picture.Point) float64 {
	ux, uy := b[0]-a[0], b[1]-a[1]
	l := ux*ux + uy*uy
	if l == 0 {
		return distance(p, a)
	}
	s := min(1, max(0, ((p[0]-a[0])*ux+(p[1]-a[1])*uy)/l))
	return math.Hypot(p[0]-a[0]-s*ux, p[1]-a[1]-s*uy)
}
