package shapes

import "math"

// window is a block of faces left out of a row of rings, for a limb to grow out of:
// from ring and from corner up to ring and corner.
type window struct{ ring, corner, toRing, toCorner int }

// trunk is the surface through rings, as a loft, with limbs that grow out of windows
// in it. limb gives the rings of the limb of a window, from the first off the trunk
// to the tip; each has a corner for every corner round the window, in the same
// sequence.
func trunk(rings [][]point, windows []window, limb func(w int) [][]point) body {
	var b body
	b.bandsBut(rings, windows)
	b.fan(rings[0])
	b.fan(backwards(rings[len(rings)-1]))
	for w := range windows {
		grown := append([][]point{windows[w].corners(rings)}, limb(w)...)
		b.bands(grown)
		b.fan(backwards(grown[len(grown)-1]))
	}
	return b.outward()
}

// bandsBut are the bands between rings, but for the windows.
func (b *body) bandsBut(rings [][]point, windows []window) {
	n := len(rings[0])
	for i := range rings[1:] {
		for k := range n {
			if !inWindow(windows, i, k, n) {
				m := (k + 1) % n
				b.quad(rings[i][k], rings[i][m], rings[i+1][m], rings[i+1][k])
			}
		}
	}
}

// inWindow tells whether the face after corner k of n is left out; a window may run
// on over the first corner.
func inWindow(windows []window, i, k, n int) bool {
	for _, w := range windows {
		if i >= w.ring && i < w.toRing && (k >= w.corner && k < w.toCorner || k+n < w.toCorner) {
			return true
		}
	}
	return false
}

// corners are those round the window: along its first ring, and round.
func (w window) corners(rings [][]point) []point {
	n := len(rings[0])
	var out []point
	for _, c := range w.round() {
		out = append(out, rings[c[0]][c[1]%n])
	}
	return out
}

func (w window) round() [][2]int {
	var out [][2]int
	for k := w.corner; k < w.toCorner; k++ {
		out = append(out, [2]int{w.ring, k})
	}
	for i := w.ring; i < w.toRing; i++ {
		out = append(out, [2]int{i, w.toCorner})
	}
	for k := w.toCorner; k > w.corner; k-- {
		out = append(out, [2]int{w.toRing, k})
	}
	for i := w.toRing; i > w.ring; i-- {
		out = append(out, [2]int{i, w.corner})
	}
	return out
}

// circle gives for each corner round the window a place on the unit circle, from
// ring to ring and along the rings.
func (w window) circle() [][2]float64 {
	var out [][2]float64
	for _, c := range w.round() {
		a := 2*float64(c[0]-w.ring)/float64(w.toRing-w.ring) - 1
		b := 2*float64(c[1]-w.corner)/float64(w.toCorner-w.corner) - 1
		length := math.Hypot(a, b)
		out = append(out, [2]float64{a / length, b / length})
	}
	return out
}
