package draw

import (
	"math"
	"slices"
	"testing"

	"dryfit/graphviz/picture"
)

// Corners stand on a circle, no three in a line, and each is off the line of any two
// others by more than what chains leave out.
func onCircle(i int32) dotted {
	s, c := math.Sincos(2 * math.Pi * float64(i) / 40)
	return dotted{float32(100 * c), float32(100 * s), 0}
}

// Random fragments between corners, or that end before one: the lines are as long
// together as the fragments, so that none is lost and none is there twice; no line can
// go on, for where it ends it is not two fragments that meet; and each fragment lies on
// a line.
func TestChainsOfRandomStretches(t *testing.T) {
	for seed := range uint64(200) {
		r := random(seed)
		var list []fragment
		ends := map[int32]int{}
		var segments []segment
		for range r.IntN(60) {
			i := int32(r.IntN(40))
			j := (i + 1 + int32(r.IntN(39))) % 40
			h := fragment{onCircle(i), onCircle(j), i, j}
			if r.IntN(4) == 0 {
				h.to, h.j = dotted{(h.from.x + h.to.x) / 2, (h.from.y + h.to.y) / 2, 0}, -1
			}
			if r.IntN(2) == 0 {
				h = fragment{h.to, h.from, h.j, h.i}
			}
			list = append(list, h)
			ends[h.i]++
			ends[h.j]++
			segments = append(segments, segment{flat(h.from), flat(h.to)})
		}
		lines := chains(list)
		got := drawn(lines)
		if l, want := total(got), total(segments); math.Abs(l-want) > 1e-3 {
			t.Errorf("seed %d: %.3f long in all, want %.3f", seed, l, want)
		}
		if p, bad := strayed(segments, got, 1e-3); bad {
			t.Errorf("seed %d: nothing is drawn at %v", seed, p)
		}
		if n, want := len(lines), rings(list)+loose(ends)/2; n != want {
			t.Errorf("seed %d: %d lines, want %d", seed, n, want)
		}
	}
}

// loose is how many ends do not go on: those that are no corner, and those at a corner
// where not exactly two meet.
func loose(ends map[int32]int) int {
	n := 0
	for i, k := range ends {
		if i < 0 || k != 2 {
			n += k
		}
	}
	return n
}

// rings counts the sets of fragments tied by corners in which every corner has two.
func rings(list []fragment) int {
	group := make([]int, len(list))
	for k := range list {
		group[k] = k
	}
	meets := func(a, b fragment) bool {
		return a.i >= 0 && (a.i == b.i || a.i == b.j) || a.j >= 0 && (a.j == b.i || a.j == b.j)
	}
	for range list {
		for k := range list {
			for m := range list {
				if meets(list[k], list[m]) {
					group[k] = min(group[k], group[m])
				}
			}
		}
	}
	open, n := map[int]map[int32]int{}, 0
	for k, h := range list {
		if open[group[k]] == nil {
			open[group[k]] = map[int32]int{}
		}
		open[group[k]][h.i]++
		open[group[k]][h.j]++
	}
	for _, ends := range open {
		if loose(ends) == 0 {
			n++
		}
	}
	return n
}

func flat(d dotted) picture.Point { return picture.Point{float64(d.x), float64(d.y)} }

// Rings come back closed, each once, whatever the sequence and sense of their fragments.
func TestChainsCloseRings(t *testing.T) {
	for seed := range uint64(100) {
		r := random(seed)
		corners := r.Perm(40)
		var list []fragment
		var want []float64
		for len(corners) >= 3 {
			ring := corners[:min(len(corners), 3+r.IntN(9))]
			corners = corners[len(ring):]
			long := 0.0
			for k, i := range ring {
				j := ring[(k+1)%len(ring)]
				h := fragment{onCircle(int32(i)), onCircle(int32(j)), int32(i), int32(j)}
				long += distance(flat(h.from), flat(h.to))
				if r.IntN(2) == 0 {
					h = fragment{h.to, h.from, h.j, h.i}
				}
				list = append(list, h)
			}
			want = append(want, long)
		}
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		var got []float64
		for _, line := range chains(list) {
			if line[0] != line[len(line)-1] {
				t.Errorf("seed %d: a ring from %v to %v", seed, line[0], line[len(line)-1])
			}
			got = append(got, total(drawn([][]picture.Point{line})))
		}
		slices.Sort(got)
		slices.Sort(want)
		if !slices.EqualFunc(got, want, func(a, b float64) bool { return math.Abs(a-b) < 1e-3 }) {
			t.Errorf("seed %d: rings of %.1f, want %.1f", seed, got, want)
		}
	}
}

// Many fragments in a row are one line of two points, and what has no length is none.
func TestChainsStraighten(t *testing.T) {
	var list []fragment
	for i := range int32(100) {
		list = append(list, fragment{dotted{float32(i), float32(2 * i), 0}, dotted{float32(i + 1), float32(2*i + 2), 0}, i, i + 1})
	}
	lines := chains(list)
	if len(lines) != 1 || len(lines[0]) != 2 || distance(lines[0][0], lines[0][1]) != 100*math.Sqrt(5) {
		t.Errorf("got %v", lines)
	}
	if lines := chains([]fragment{{dotted{1, 1, 0}, dotted{1, 1, 0}, 3, 4}, {dotted{2, 1, 0}, dotted{2, 1, 0}, -1, -1}}); len(lines) != 0 {
		t.Errorf("got %v of dots", lines)
	}
}

// What is left out of a line is within the distance of what remains between its
// neighbours; ends stay; nothing is added or moved.
func TestSimplifiedIsNear(t *testing.T) {
	for seed := range uint64(300) {
		r := random(seed)
		within := []float64{0, 0.3, 2, 1e6}[seed%4]
		line := []picture.Point{{0, 0}}
		for range r.IntN(80) {
			p := line[len(line)-1]
			line = append(line, picture.Point{p[0] + 0.5 + 1.2*r.NormFloat64(), p[1] + r.NormFloat64()})
		}
		if r.IntN(3) == 0 {
			line = append(line, line[0])
		}
		got := simplified(slices.Clone(line), within)
		at := 0
		for k := 1; k < len(got); k++ {
			from := at
			for at++; at < len(line) && !(line[at] == got[k] && near(line[from:at], line[from], line[at], within)); at++ {
			}
		}
		if got[0] != line[0] || at != len(line)-1 && len(line) > 1 {
			t.Errorf("seed %d: %v within %v is not\n%v", seed, got, within, line)
		}
		if within == 1e6 && len(got) > 2 {
			t.Errorf("seed %d: %d points are left of a line that is a point to the eye", seed, len(got))
		}
	}
}

func near(list []picture.Point, a, b picture.Point, within float64) bool {
	return !slices.ContainsFunc(list, func(p picture.Point) bool { return offLine(p, a, b) > within })
}
