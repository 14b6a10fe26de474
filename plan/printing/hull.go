package printing

import (
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Hull is the convex hull of a part.
type Hull struct {
	Points []geom.Vec // its corners; the part extends at most Slack beyond them
	Facets []Facet    // its flat faces, the largest first; none if the part itself is flat
	Slack  float64    // mm
}

// Facet is a flat face of a hull.
type Facet struct {
	Normal geom.Vec // outward unit vector
	Area   float64
	faces  [][3]geom.Vec // the triangles it consists of
}

// volume is the volume of the hull, mm3.
func (h *Hull) volume() (v float64) {
	if len(h.Points) == 0 {
		return 0
	}
	for _, f := range h.Facets {
		for _, t := range f.faces {
			v += t[0].Minus(h.Points[0]).Dot(t[1].Minus(t[0]).Cross(t[2].Minus(t[0]))) / 6
		}
	}
	return v
}

// holds reports whether a point, moved along the normal, meets the facet.
func (f *Facet) holds(p geom.Vec) bool {
	for _, t := range f.faces {
		in := true
		for k := range 3 {
			a, b := t[k], t[(k+1)%3]
			in = in && b.Minus(a).Cross(p.Minus(a)).Dot(f.Normal) >= 0
		}
		if in {
			return true
		}
	}
	return false
}

// width is the shorter side of the smallest box around the facet.
func (f *Facet) width() float64 {
	var points []geom.Vec
	for _, t := range f.faces {
		points = append(points, t[:]...)
	}
	ring := shadow(points, standing(f.Normal))
	w, d := boxAt(ring, leastBox(ring))
	return min(w, d)
}

// quickhull finds the convex hull of points (C. B. Barber, D. P. Dobkin and H.
// Huhdanpaa, "The quickhull algorithm for convex hulls", ACM Transactions on
// Mathematical Software 22, 1996). Points within slack of a face count as on it,
// as the corners of flat faces are but for rounding.
type quickhull struct {
	points []geom.Vec
	slack  float64
	faces  []face
	extra  []int // points whose cone failed because of rounding; kept as they are
	stamp  int
}

type face struct {
	corner  [3]int
	next    [3]int // the face beyond the edge from corner k to k+1
	normal  geom.Vec
	offset  float64
	outside []int // points in front of it, each with one face only
	far     int   // place in outside of the one farthest away
	farther float64
	gone    bool
	seen    int
}

// slackShare is the distance that counts as zero, as a share of the longest side:
// two rounding errors of 24-bit coordinates.
const slackShare = 2e-7

// hullOf finds the hull of points, to within slack or the rounding of coordinates.
func hullOf(points []geom.Vec, slack float64) *Hull {
	q := &quickhull{points: points, slack: max(slack, slackShare*longest(boxAround(points).Size()))}
	if !q.begin() {
		return &Hull{Points: outermost(points, directions(500)), Slack: q.slack}
	}
	// New faces are added at the end, so that every face has its turn.
	for f := 0; f < len(q.faces); f++ {
		for !q.faces[f].gone && len(q.faces[f].outside) > 0 {
			q.grow(f)
		}
	}
	return q.hull()
}

func boxAround(points []geom.Vec) geom.Box {
	box := geom.Nothing()
	for _, p := range points {
		box = box.With(p)
	}
	return box
}

// begin makes the first four faces. It reports false when all points lie on a plane.
func (q *quickhull) begin() bool {
	c, ok := q.simplex()
	if !ok {
		return false
	}
	for _, f := range [4][3]int{{0, 1, 2}, {0, 3, 1}, {1, 3, 2}, {2, 3, 0}} {
		q.faces = append(q.faces, face{corner: [3]int{c[f[0]], c[f[1]], c[f[2]]}})
		if !q.plane(len(q.faces) - 1) {
			return false
		}
	}
	for f := range q.faces {
		for k := range 3 {
			a, b := q.faces[f].corner[k], q.faces[f].corner[(k+1)%3]
			for g := range q.faces {
				for j := range 3 {
					if q.faces[g].corner[j] == b && q.faces[g].corner[(j+1)%3] == a {
						q.faces[f].next[k] = g
					}
				}
			}
		}
	}
	all := make([]int, len(q.points))
	for i := range all {
		all[i] = i
	}
	q.share(all, []int{0, 1, 2, 3})
	return true
}

// simplex finds four points that are far from one another, the last behind the
// plane of the first three.
func (q *quickhull) simplex() (c [4]int, ok bool) {
	far := func(measure func(p geom.Vec) float64) int {
		best, most := 0, math.Inf(-1)
		for i, p := range q.points {
			if m := measure(p); m > most {
				best, most = i, m
			}
		}
		return best
	}
	for k := range 3 {
		lo := far(func(p geom.Vec) float64 { return -p[k] })
		hi := far(func(p geom.Vec) float64 { return p[k] })
		if k == 0 || q.points[hi][k]-q.points[lo][k] > q.points[c[1]].Minus(q.points[c[0]]).Length() {
			c[0], c[1] = lo, hi
		}
	}
	a, b := q.points[c[0]], q.points[c[1]]
	along := b.Minus(a)
	if along.Length() <= q.slack {
		return c, false
	}
	along = along.Unit()
	c[2] = far(func(p geom.Vec) float64 { return along.Cross(p.Minus(a)).Length() })
	if along.Cross(q.points[c[2]].Minus(a)).Length() <= 10*q.slack {
		return c, false
	}
	n := along.Cross(q.points[c[2]].Minus(a)).Unit()
	c[3] = far(func(p geom.Vec) float64 { return math.Abs(n.Dot(p.Minus(a))) })
	high := n.Dot(q.points[c[3]].Minus(a))
	if high > 0 {
		c[0], c[1] = c[1], c[0]
	}
	return c, math.Abs(high) > 10*q.slack
}

// plane computes the plane of a face. It reports false when its corners lie on a
// line within rounding.
func (q *quickhull) plane(f int) bool {
	s := &q.faces[f]
	a, b, c := q.points[s.corner[0]], q.points[s.corner[1]], q.points[s.corner[2]]
	n := b.Minus(a).Cross(c.Minus(a))
	length := n.Length()
	if longest := max(b.Minus(a).Length(), c.Minus(a).Length(), c.Minus(b).Length()); length <= q.slack*longest {
		return false
	}
	s.normal = n.Times(1 / length)
	s.offset = s.normal.Dot(a.Plus(b.Plus(c)).Times(1.0 / 3))
	return true
}

func (q *quickhull) above(f, p int) float64 {
	s := &q.faces[f]
	return s.normal.Dot(q.points[p]) - s.offset
}

// share gives each point to the first of the faces that it lies in front of. Points
// that are behind all of them are in the hull.
func (q *quickhull) share(points, faces []int) {
	for _, p := range points {
		for _, f := range faces {
			if d := q.above(f, p); d > q.slack {
				s := &q.faces[f]
				if d > s.farther {
					s.far, s.farther = len(s.outside), d
				}
				s.outside = append(s.outside, p)
				break
			}
		}
	}
}

// grow takes the point farthest in front of a face into the hull.
func (q *quickhull) grow(f int) {
	s := &q.faces[f]
	p := s.outside[s.far]
	visible, rim := q.visible(f, p)
	made, ok := q.cone(p, rim)
	if !ok {
		q.faces = q.faces[:len(q.faces)-len(made)]
		q.extra = append(q.extra, p)
		s = &q.faces[f]
		s.outside = slices.Delete(s.outside, s.far, s.far+1)
		s.far, s.farther = 0, 0
		for i, o := range s.outside {
			if d := q.above(f, o); d > s.farther {
				s.far, s.farther = i, d
			}
		}
		return
	}
	for i, r := range rim {
		q.faces[r.face].next[r.edge] = made[i]
	}
	for _, v := range visible {
		q.faces[v].gone = true
		q.share(q.faces[v].outside, made)
		q.faces[v].outside = nil
	}
}

// side is an edge of a face that stays, beyond which lies one that goes.
type side struct{ face, edge int }

// visible finds the faces that a point is in front of, beginning with one of them,
// and the edges around them.
func (q *quickhull) visible(f, p int) (visible []int, rim []side) {
	q.stamp++
	visible = []int{f}
	q.faces[f].seen = q.stamp
	for i := 0; i < len(visible); i++ {
		v := visible[i]
		for k, g := range q.faces[v].next {
			if q.faces[g].seen == q.stamp {
				continue
			}
			if q.above(g, p) > q.slack {
				q.faces[g].seen = q.stamp
				visible = append(visible, g)
				continue
			}
			a := q.faces[v].corner[k]
			for j := range 3 {
				if q.faces[g].next[j] == v && q.faces[g].corner[(j+1)%3] == a {
					rim = append(rim, side{g, j})
				}
			}
		}
	}
	return visible, rim
}

// cone makes a face from each edge of the rim to a point. It reports false when,
// because of rounding, the rim is not a single ring or a face has no area.
func (q *quickhull) cone(p int, rim []side) (made []int, ok bool) {
	from := map[int]int{} // corner -> the new face whose edge of the rim begins there
	for _, r := range rim {
		g := &q.faces[r.face]
		a, b := g.corner[(r.edge+1)%3], g.corner[r.edge] // as seen from the new face
		f := len(q.faces)
		q.faces = append(q.faces, face{corner: [3]int{a, b, p}, next: [3]int{r.face}})
		made = append(made, f)
		if _, twice := from[a]; twice || !q.plane(f) {
			return made, false
		}
		from[a] = f
	}
	for _, f := range made {
		g, closed := from[q.faces[f].corner[1]]
		if !closed {
			return made, false
		}
		q.faces[f].next[1] = g // across the edge from b to the point
		q.faces[g].next[2] = f
	}
	return made, len(made) >= 3
}

// hull collects corners and flat faces.
func (q *quickhull) hull() *Hull {
	h := &Hull{Slack: q.slack}
	used := make([]bool, len(q.points))
	for _, p := range q.extra {
		used[p] = true
	}
	for _, f := range q.faces {
		if !f.gone {
			used[f.corner[0]], used[f.corner[1]], used[f.corner[2]] = true, true, true
		}
	}
	for i, u := range used {
		if u {
			h.Points = append(h.Points, q.points[i])
		}
	}
	h.Facets = q.facets()
	return h
}
