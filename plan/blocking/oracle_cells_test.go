package blocking_test

import (
	"math"
	"slices"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// cells are pieces made of unit cells, and how they stand in the model. For them all
// questions have exact answers.
type cells struct {
	name   string
	pieces [][][3]int
	edge   float64 // mm
	pose
}

// pose is a place in the model.
type pose struct {
	name string
	turn [3][3]float64
	move vec
}

func (c *cells) triangles() (lists [][]mesh.Triangle) {
	for _, p := range c.pieces {
		lists = append(lists, meshtest.Transform(meshtest.Cubes(p, 1), c.turn, c.move, c.edge))
	}
	return lists
}

// toModel turns a direction of the cells into one of the model.
func (p pose) toModel(d vec) vec { return meshtest.Apply(p.turn, vec{}, 1, d) }

// toCells is the inverse: the turn is a rotation.
func (p pose) toCells(d vec) vec {
	var x vec
	for k := range 3 {
		x[k] = p.turn[0][k]*d[0] + p.turn[1][k]*d[1] + p.turn[2][k]*d[2]
	}
	return x
}

// sight is a direction along which cells are viewed; it remembers what two cells
// are to each other by the step from one to the other.
type sight struct {
	d          vec
	must, pass float64 // radii, in cells
	known      map[[3]int]verdict
}

// sight looks along a direction of the model at a pitch. What many thin slivers of
// cells add up to is not worked out: only a pair without any is free for certain.
func (c *cells) sight(d vec, pitch float64) *sight {
	return &sight{c.toCells(d), mustSee * pitch / c.edge * (1 + 1e-4), 1e-3, map[[3]int]verdict{}}
}

// blocks is whether piece b is in the way of a.
func (s *sight) blocks(a, b [][3]int) verdict {
	worst := free
	for _, p := range a {
		for _, q := range b {
			switch s.step([3]int{q[0] - p[0], q[1] - p[1], q[2] - p[2]}) {
			case blocked:
				return blocked
			case either:
				worst = either
			}
		}
	}
	return worst
}

// step is whether the cell that many steps away is in the way.
func (s *sight) step(by [3]int) verdict {
	v, ok := s.known[by]
	if !ok {
		v = s.look(vec{float64(by[0]), float64(by[1]), float64(by[2])})
		s.known[by] = v
	}
	return v
}

func (s *sight) look(by vec) verdict {
	if side := sub(by, times(dot(by, s.d), s.d)); norm(side) > math.Sqrt(3) || dot(by, s.d) < -math.Sqrt(3) {
		return free
	}
	a, b := boxOf(vec{}, vec{1, 1, 1}), boxOf(by, plus(by, vec{1, 1, 1}))
	w := newView([]*convex{a, b}, s.d)
	both := w.both(0, 1)
	if len(both) < 3 || len(both.eroded(s.pass)) == 0 {
		return free
	}
	x := both.middle()
	if !above(a, b, plus(times(x[0], w.u), times(x[1], w.v)), s.d) {
		return free
	}
	if len(both.eroded(s.must)) > 0 {
		return blocked
	}
	return either
}

// axes are the six directions along the cells.
var axes = []vec{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}}

// leavesAlong is the exact answer for whole groups along a direction of the axes: a
// cell of the rest lies anywhere ahead of one that leaves.
func (c *cells) leavesAlong(group, rest []int, d vec) bool {
	ahead := map[[3]int]bool{}
	for _, p := range rest {
		for _, q := range c.pieces[p] {
			ahead[q] = true
		}
	}
	for _, p := range group {
		for _, q := range c.pieces[p] {
			for range 32 { // longer than any fixture
				for k := range 3 {
					q[k] += int(d[k])
				}
				if ahead[q] {
					return false
				}
			}
		}
	}
	return true
}

// cuboid is a box along the cells, in cells.
type cuboid struct{ low, high vec }

// runs joins the cells of a piece into boxes along x.
func runs(piece [][3]int) (boxes []cuboid) {
	in := map[[3]int]bool{}
	for _, c := range piece {
		in[c] = true
	}
	for _, c := range piece {
		if in[[3]int{c[0] - 1, c[1], c[2]}] {
			continue
		}
		end := c
		for in[end] {
			end[0]++
		}
		low := vec{float64(c[0]), float64(c[1]), float64(c[2])}
		boxes = append(boxes, cuboid{low, vec{float64(end[0]), low[1] + 1, low[2] + 1}})
	}
	return boxes
}

// wayFree pushes a group of cells along the legs of a move, exactly: nowhere does a
// box of the group reach more than slack (mm) into one of the rest along all three
// axes at once.
func (c *cells) wayFree(group, rest []int, legs []geom.Leg, slack float64) bool {
	var moving, fixed []cuboid
	for _, p := range group {
		moving = append(moving, runs(c.pieces[p])...)
	}
	for _, q := range rest {
		fixed = append(fixed, runs(c.pieces[q])...)
	}
	var from vec
	for _, leg := range legs {
		to := plus(from, times(min(leg.Distance/c.edge, 1000), c.toCells(leg.Toward)))
		for _, a := range moving {
			for _, b := range fixed {
				if a.meets(b, from, to, slack/c.edge) {
					return false
				}
			}
		}
		from = to
	}
	return true
}

// meets reports whether a, moved in a straight line from one place to another, gets
// deeper than slack into b along all three axes at once.
func (a cuboid) meets(b cuboid, from, to vec, slack float64) bool {
	begin, end := 0.0, 1.0
	for k := range 3 {
		// Inside as long as near < from + s*(to-from) < far.
		near, far := b.low[k]-a.high[k]+slack, b.high[k]-a.low[k]-slack
		slope := to[k] - from[k]
		if math.Abs(slope) < 1e-12 {
			if from[k] <= near || from[k] >= far {
				return false
			}
			continue
		}
		s, t := (near-from[k])/slope, (far-from[k])/slope
		begin, end = max(begin, min(s, t)), min(end, max(s, t))
	}
	return begin < end-1e-9
}

// splits are all ways to part a group in two by one straight move along the axes
// where each part is connected, each once.
func splits(group []int, leaves func(a, b []int, d vec) bool, together func([]int) bool) (all [][2][]int) {
	for mask := 1; mask < 1<<(len(group)-1); mask++ {
		var a, b []int
		for i, p := range group {
			if mask>>i&1 == 1 {
				a = append(a, p)
			} else {
				b = append(b, p)
			}
		}
		if !together(a) || !together(b) {
			continue
		}
		if slices.ContainsFunc(axes, func(d vec) bool { return leaves(a, b, d) }) {
			all = append(all, [2][]int{a, b})
		}
	}
	return all
}

// orders counts the sequences in which the pieces can be taken off one at a time.
func orders(left []int, leaves func(a, b []int, d vec) bool) int {
	if len(left) <= 1 {
		return 1
	}
	n := 0
	for i, p := range left {
		rest := slices.Delete(slices.Clone(left), i, i+1)
		if slices.ContainsFunc(axes, func(d vec) bool { return leaves([]int{p}, rest, d) }) {
			n += orders(rest, leaves)
		}
	}
	return n
}
