package draw

import "dryfit/graphviz/picture"

// contours goes round the areas of a mask, w pixels wide, and returns their borders as
// rings; holes are rings of their own, the other way round.
func contours(mask []bool, w, h int) [][]picture.Point {
	in := func(x, y int) bool { return x >= 0 && y >= 0 && x < w && y < h && mask[y*w+x] }
	// From each corner of the grid a border leaves right, down, left or up, with the
	// area on its right hand.
	type way uint8
	leaves := make([]way, (w+1)*(h+1))
	for y := 0; y <= h; y++ {
		for x := 0; x <= w; x++ {
			a, b, c, d := in(x-1, y-1), in(x, y-1), in(x-1, y), in(x, y)
			var m way
			if d && !b {
				m |= 1 // right
			}
			if c && !d {
				m |= 2 // down
			}
			if a && !c {
				m |= 4 // left
			}
			if b && !a {
				m |= 8 // up
			}
			leaves[y*(w+1)+x] = m
		}
	}
	dx, dy := [4]int{1, 0, -1, 0}, [4]int{0, 1, 0, -1}
	var rings [][]picture.Point
	for start := range leaves {
		for leaves[start] != 0 {
			var ring []picture.Point
			x, y, last := start%(w+1), start/(w+1), -1
			for {
				m := leaves[y*(w+1)+x]
				if m == 0 {
					break
				}
				// Where two areas touch at a corner, turn right: they stay apart.
				dir := 0
				for k := range 4 {
					try := (last + 1 + 4 - k) % 4
					if last < 0 {
						try = k
					}
					if m&(1<<try) != 0 {
						dir = try
						break
					}
				}
				leaves[y*(w+1)+x] &^= 1 << dir
				if dir != last {
					ring = append(ring, picture.Point{float64(x), float64(y)})
				}
				x, y, last = x+dx[dir], y+dy[dir], dir
			}
			if len(ring) > 3 {
				rings = append(rings, smoothRing(ring))
			}
		}
	}
	return rings
}

// smoothRing takes the stairs of the pixels out of a ring: a step is replaced by its
// middle, a longer side keeps its ends, or a level rectangle would lose its corners.
func smoothRing(ring []picture.Point) []picture.Point {
	n := len(ring)
	var mid []picture.Point
	for i, p := range ring {
		q := ring[(i+1)%n]
		if isStep(ring[(i+n-1)%n], p, q, ring[(i+2)%n]) {
			mid = append(mid, picture.Point{(p[0] + q[0]) / 2, (p[1] + q[1]) / 2})
			continue
		}
		if len(mid) == 0 || mid[len(mid)-1] != p {
			mid = append(mid, p)
		}
		mid = append(mid, q)
	}
	// A ring has no ends; two points far apart serve as such.
	far := 0
	for i, p := range mid {
		if distance(p, mid[0]) > distance(mid[far], mid[0]) {
			far = i
		}
	}
	out := simplified(mid[:far+1], 0.7)
	back := simplified(append(append([]picture.Point{}, mid[far:]...), mid[0]), 0.7)
	return append(out[:len(out)-1:len(out)-1], back[:len(back)-1]...)
}

// isStep reports whether the side from p to q of a ring, between the points o and r, is
// the side of one pixel, or runs from one such side to another that goes on the same
// way, as the stairs of a slanted line do.
func isStep(o, p, q, r picture.Point) bool {
	if distance(p, q) <= 1 {
		return true
	}
	on := (p[0]-o[0])*(r[0]-q[0])+(p[1]-o[1])*(r[1]-q[1]) > 0
	return on && distance(o, p) <= 1 && distance(q, r) <= 1
}
