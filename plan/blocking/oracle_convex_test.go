package blocking_test

import (
	"math"
	"math/rand"
	"slices"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// convex is a convex solid: its faces as loops of corners, counter-clockwise from
// outside. Corners are rounded as the mesh has them, so that the exact method and
// the sampled one see the same solid.
type convex struct {
	faces   [][]vec
	corners []vec
	normals []vec // of the faces, unit
	edges   []vec // their directions, each once, unit
}

func newConvex(faces [][]vec) *convex {
	c := &convex{}
	for _, f := range faces {
		var loop []vec
		for _, p := range f {
			p = rounded(p)
			if len(loop) == 0 || loop[len(loop)-1] != p && loop[0] != p {
				loop = append(loop, p)
			}
			if !slices.Contains(c.corners, p) {
				c.corners = append(c.corners, p)
			}
		}
		if len(loop) < 3 {
			continue
		}
		c.faces = append(c.faces, loop)
		c.normals = append(c.normals, unit(loopNormal(loop)))
		for i, p := range loop {
			e := unit(sub(loop[(i+1)%len(loop)], p))
			same := func(x vec) bool { return norm(cross(x, e)) < 1e-6 }
			if !slices.ContainsFunc(c.edges, same) {
				c.edges = append(c.edges, e)
			}
		}
	}
	return c
}

// prismOf stands on a convex polygon.
func prismOf(base polygon, height float64) *convex {
	var bottom, top []vec
	var faces [][]vec
	for i, p := range base {
		q := base[(i+1)%len(base)]
		bottom = append(bottom, vec{p[0], p[1], 0})
		top = append(top, vec{p[0], p[1], height})
		faces = append(faces, []vec{{p[0], p[1], 0}, {q[0], q[1], 0}, {q[0], q[1], height}, {p[0], p[1], height}})
	}
	slices.Reverse(bottom)
	return newConvex(append(faces, bottom, top))
}

func boxOf(low, high vec) *convex {
	base := polygon{{0, 0}, {high[0] - low[0], 0}, {high[0] - low[0], high[1] - low[1]}, {0, high[1] - low[1]}}
	return prismOf(base, high[2]-low[2]).moved(meshtest.Identity, low)
}

// moved is the solid turned and then moved.
func (c *convex) moved(rotation [3][3]float64, by vec) *convex {
	var faces [][]vec
	for _, f := range c.faces {
		var loop []vec
		for _, p := range f {
			loop = append(loop, meshtest.Apply(rotation, by, 1, p))
		}
		faces = append(faces, loop)
	}
	return newConvex(faces)
}

func (c *convex) triangles() []mesh.Triangle {
	var list []mesh.Triangle
	for _, f := range c.faces {
		for i := 2; i < len(f); i++ {
			list = append(list, mesh.Triangle{single(f[0]), single(f[i-1]), single(f[i])})
		}
	}
	return list
}

// extent is how far the solid reaches along n.
func (c *convex) extent(n vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range c.corners {
		x := dot(n, p)
		low, high = min(low, x), max(high, x)
	}
	return low, high
}

// separating are the directions of which one separates two convex solids if any does:
// normals of faces and products of edges (S. Gottschalk, "Separating axis theorem",
// technical report TR96-024, University of North Carolina at Chapel Hill, 1996).
func separating(a, b *convex) []vec {
	all := append(slices.Clone(a.normals), b.normals...)
	for _, e := range a.edges {
		for _, f := range b.edges {
			if n := cross(e, f); norm(n) > 1e-6 {
				all = append(all, unit(n))
			}
		}
	}
	return all
}

// apart is the widest gap between two convex solids in any of those directions;
// negative when they overlap.
func apart(a, b *convex) float64 {
	widest := math.Inf(-1)
	for _, n := range separating(a, b) {
		al, ah := a.extent(n)
		bl, bh := b.extent(n)
		widest = max(widest, bl-ah, al-bh)
	}
	return widest
}

// shadow is the solid seen along u x v.
func (c *convex) shadow(u, v vec) polygon {
	points := make([]vec2, len(c.corners))
	for i, p := range c.corners {
		points[i] = vec2{dot(u, p), dot(v, p)}
	}
	return hull(points)
}

// column is where a line through p along d is inside, as lengths along d from p.
func (c *convex) column(p, d vec) (in, out float64) {
	in, out = math.Inf(-1), math.Inf(1)
	for i, n := range c.normals {
		off, slope := dot(n, sub(c.faces[i][0], p)), dot(n, d)
		switch {
		case slope > 1e-12:
			out = min(out, off/slope)
		case slope < -1e-12:
			in = max(in, off/slope)
		}
	}
	return in, out
}

// above reports whether b lies further along d than a on a line through a point that
// both shadows have. Two convex solids that do not overlap have one such order on
// all lines.
func above(a, b *convex, p, d vec) bool {
	ai, ao := a.column(p, d)
	bi, bo := b.column(p, d)
	return bi+bo > ai+ao
}

// split cuts a solid by the plane n.x = off, into what lies below it and above.
func (c *convex) split(n vec, off float64) (below, above *convex) {
	var parts [2][][]vec
	var rim []vec
	for _, f := range c.faces {
		for side, sign := range []float64{-1, 1} {
			var loop []vec
			for i, p := range f {
				q := f[(i+1)%len(f)]
				s, t := sign*(dot(n, p)-off), sign*(dot(n, q)-off)
				if s >= 0 {
					loop = append(loop, p)
				}
				if (s >= 0) != (t >= 0) {
					x := crossing(p, q, n, off)
					loop = append(loop, x)
					if !slices.Contains(rim, x) {
						rim = append(rim, x)
					}
				}
			}
			if len(loop) >= 3 {
				parts[side] = append(parts[side], loop)
			}
		}
	}
	if len(rim) < 3 || len(parts[0]) == 0 || len(parts[1]) == 0 {
		return nil, nil
	}
	cap := aroundAxis(rim, n)
	parts[0] = append(parts[0], cap)
	back := slices.Clone(cap)
	slices.Reverse(back)
	parts[1] = append(parts[1], back)
	return newConvex(parts[0]), newConvex(parts[1])
}

// crossing is computed from the same end whichever way the edge runs.
func crossing(p, q, n vec, off float64) vec {
	if slices.Compare(p[:], q[:]) > 0 {
		p, q = q, p
	}
	s, t := dot(n, p)-off, dot(n, q)-off
	return rounded(plus(p, times(s/(s-t), sub(q, p))))
}

// aroundAxis sorts points of a plane counter-clockwise about n.
func aroundAxis(points []vec, n vec) []vec {
	u, v := across(n)
	var centre vec
	for _, p := range points {
		centre = plus(centre, times(1/float64(len(points)), p))
	}
	at := func(p vec) float64 { return math.Atan2(dot(v, sub(p, centre)), dot(u, sub(p, centre))) }
	out := slices.Clone(points)
	slices.SortFunc(out, func(a, b vec) int {
		switch x, y := at(a), at(b); {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return out
}

// loopNormal is twice the area of a loop times its normal (M. E. Newell).
func loopNormal(loop []vec) vec {
	var n vec
	for i := 1; i+1 < len(loop); i++ {
		n = plus(n, cross(sub(loop[i], loop[0]), sub(loop[i+1], loop[0])))
	}
	return n
}

func single(p vec) [3]float32 {
	return [3]float32{float32(p[0]), float32(p[1]), float32(p[2])}
}

func rounded(p vec) vec {
	s := single(p)
	return vec{float64(s[0]), float64(s[1]), float64(s[2])}
}

func randomUnit(r *rand.Rand) vec {
	for {
		d := vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}
		if norm(d) > 1e-3 {
			return unit(d)
		}
	}
}
