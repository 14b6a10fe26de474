package printing

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Bounds of the search for the nearest turn.
const (
	upDirections = 600 // over the sphere, about 8 degrees apart; half of them are tried
	aboutUp      = 12  // turns about each, over a right angle
	starts       = 10  // from which the search goes on
	apart        = 15  // degrees between the upright axes of two starts
	firstStep    = 4   // degrees
	lastStep     = 2e-4
	most         = 300 // steps from a start; crawling along a ridge of the excess ends there
)

// nearest looks for the turn at which a hull sticks out of a volume the least:
// the turn with the smallest maximum excess over the three sides.
//
// Turns all over the sphere are tried, and from the best of them smaller and
// smaller steps are taken, at first on a few corners of the hull: whenever the
// hull sticks out beyond those, its farthest corners join them. The excess has
// many local minima, so the lowest can be missed; the tests compare the result
// with all turns of a fine grid.
func nearest(h *Hull, volume geom.Vec) Turn {
	s := &search{volume: volume, points: outermost(h.Points, directions(80))}
	best, least := asModelled, math.Inf(1)
	for _, start := range s.starts() {
		t := s.settle(start, h)
		if e := s.excess(&t, h.Points); e < least {
			best, least = t, e
		}
		if least+2*h.Slack <= 0 {
			break
		}
	}
	return s.laid(best, h.Points)
}

type search struct {
	volume geom.Vec
	points []geom.Vec
}

// excess is how far points stick out at most at a turn, with the longest side
// along the longest of the volume, and so on; no other assignment is better.
func (s *search) excess(t *Turn, points []geom.Vec) float64 {
	return over(t.size(points), s.volume)
}

func over(size, volume geom.Vec) float64 {
	slices.Sort(size[:])
	slices.Sort(volume[:])
	return max(size[0]-volume[0], size[1]-volume[1], size[2]-volume[2])
}

// starts are the best turns of those tried all over the sphere. For a box, upside
// down and a right angle about the vertical axis make no difference.
func (s *search) starts() []Turn {
	type tried struct {
		turn   Turn
		excess float64
	}
	var list []tried
	for _, up := range directions(upDirections)[:upDirections/2] {
		t := standing(up)
		flat := make([][2]float64, len(s.points))
		lo, hi := math.Inf(1), math.Inf(-1)
		for i, p := range s.points {
			q := t.apply(p)
			flat[i] = [2]float64{q[0], q[1]}
			lo, hi = min(lo, q[2]), max(hi, q[2])
		}
		best, least := 0.0, math.Inf(1)
		for a := range aboutUp {
			angle := math.Pi / 2 * float64(a) / aboutUp
			w, d := boxAt(flat, angle)
			if e := over(geom.Vec{w, d, hi - lo}, s.volume); e < least {
				best, least = angle, e
			}
		}
		list = append(list, tried{about(2, -best).after(t), least})
	}
	slices.SortStableFunc(list, func(a, b tried) int { return cmp.Compare(a.excess, b.excess) })
	var out []Turn
	for _, c := range list {
		near := func(o Turn) bool { return math.Abs(o[2].Dot(c.turn[2])) > math.Cos(radians(apart)) }
		if !slices.ContainsFunc(out, near) {
			if out = append(out, c.turn); len(out) == starts {
				break
			}
		}
	}
	return out
}

// steps are the axes of the small rotations: those of a cube through its faces,
// edges and corners, both ways.
var steps = func() []geom.Vec {
	var list []geom.Vec
	for i := range 27 {
		v := geom.Vec{float64(i%3 - 1), float64(i/3%3 - 1), float64(i/9 - 1)}
		if v != (geom.Vec{}) {
			list = append(list, v.Unit())
		}
	}
	return list
}()

// settle takes a turn down to a local minimum of the excess.
func (s *search) settle(t Turn, h *Hull) Turn {
	step := radians(firstStep)
	for {
		t = s.descend(t, step)
		if s.excess(&t, h.Points)-s.excess(&t, s.points) < spareRoom/10 {
			return t
		}
		for _, axis := range t {
			s.points = append(s.points, outermost(h.Points, []geom.Vec{axis, axis.Times(-1)})...)
		}
		step = radians(firstStep / 8)
	}
}

// descend takes steps as long as they lower the excess, each time the best one,
// and halves them when none does.
func (s *search) descend(t Turn, step float64) Turn {
	least := s.excess(&t, s.points)
	for n := 0; step > radians(lastStep) && n < most; n++ {
		best := t
		lower := false
		for _, axis := range steps {
			to := around(axis.Times(step)).after(t)
			if e := s.excess(&to, s.points); e < least-1e-9 {
				best, least, lower = to, e, true
			}
		}
		t = best
		if !lower {
			step /= 2
		}
	}
	return t
}

// laid puts the longest side along the longest of the volume, and so on.
func (s *search) laid(t Turn, points []geom.Vec) Turn {
	size := t.size(points)
	rank := func(v geom.Vec) [3]int {
		order := []int{0, 1, 2}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(v[a], v[b]) })
		return [3]int(order)
	}
	var out Turn
	from, to := rank(size), rank(s.volume)
	for k := range 3 {
		out[to[k]] = t[from[k]]
	}
	if out[0].Cross(out[1]).Dot(out[2]) < 0 {
		out[0] = out[0].Times(-1)
	}
	return out
}
