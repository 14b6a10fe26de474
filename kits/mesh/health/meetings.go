package health

import "math/bits"

// Limits on the search for triangles that meet.
const (
	maxMeetings = 1000       // in each part of a surface
	partLeaves  = 4096       // leaves of such a part
	maxPairs    = 1000       // boxes and pairs of triangles compared for each triangle of a part,
	leastPairs  = 20_000_000 // or this many in all
)

// meetings is what was found of triangles that meet.
type meetings struct {
	list  []meeting
	more  bool // there are more than those listed
	given bool // a part was abandoned: too much is in one place
}

// meetings finds triangles that meet. It processes the leaves in parts, each with
// its own limits, so that the result does not depend on how goroutines share
// them.
func (t *tree) meetings(by slack, fan []bool) meetings {
	parts := make([]meetings, (t.leaves+partLeaves-1)/partLeaves)
	each(t.ctx, len(parts), func(i int) {
		first := i * partLeaves
		parts[i] = t.meetingsFrom(first, min(first+partLeaves, t.leaves), by, fan)
	})
	var all meetings
	for _, p := range parts {
		all.list = append(all.list, p.list...)
		all.more = all.more || p.more
		all.given = all.given || p.given
	}
	return all
}

// meetingsFrom compares the leaves of a part with themselves and all later ones.
func (t *tree) meetingsFrom(first, end int, by slack, fan []bool) (found meetings) {
	left := max(maxPairs*leafSize*(end-first), leastPairs)
	shelf := &shelf{surface: t.s, by: by, fan: fan}
	stack := make([]int, 0, 2*t.depth()+2)
	own := &ready{}
	for l := first; l < end && !found.more && !found.given; l++ {
		box := &t.boxes[t.leaves+l]
		own.take(t, l)
		stack = append(stack[:0], 1)
		for len(stack) > 0 {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			left--
			switch {
			case t.last(n) < l || !t.boxes[n].overlaps(box):
			case n < t.leaves:
				stack = append(stack, 2*n+1, 2*n)
			case n == t.leaves+l:
				for i := range own.n {
					for j := range i {
						if own.box[i].overlaps(&own.box[j]) {
							shelf.compare(own, own, i, j, &found)
						}
					}
				}
			default:
				other := shelf.leaf(t, n-t.leaves)
				left -= leafSize * leafSize
				for j := range other.n {
					b := &other.box[j]
					if !b.overlaps(box) {
						continue
					}
					for i := range own.n {
						if own.box[i].overlaps(b) {
							shelf.compare(own, other, i, j, &found)
						}
					}
				}
			}
		}
		found.given = left < 0
	}
	return found
}

// shelf keeps the leaves used last: a leaf is compared with those around it, and
// so is the next.
type shelf struct {
	*surface
	by   slack
	fan  []bool // of each corner
	kept [256]ready
}

// ready is the triangles of a leaf. Few come so far that their planes are needed.
type ready struct {
	leaf   int // plus one
	n      int
	box    [leafSize]box3
	face   [leafSize]uint32
	corner [leafSize][3]uint32
	facets [leafSize]facet
	known  [leafSize]planeState
}

// planeState says whether the plane of a triangle is known, or that it is too thin to have one.
type planeState uint8

const (
	notYet planeState = iota
	hasPlane
	tooThin
)

func (s *shelf) leaf(t *tree, l int) *ready {
	r := &s.kept[l%len(s.kept)]
	if r.leaf != l+1 {
		r.take(t, l)
	}
	return r
}

// take fills in the triangles of a leaf.
func (r *ready) take(t *tree, l int) {
	list := t.leaf(l)
	r.leaf, r.n, r.known = l+1, len(list), [leafSize]planeState{}
	for i, face := range list {
		r.face[i], r.corner[i] = face, t.s.faces[face]
		t.s.box(&r.box[i], face, t.thin)
	}
}

// plane is a triangle with its plane, or nil if it is too thin.
func (s *shelf) plane(r *ready, i int) *facet {
	f := &r.facets[i]
	if r.known[i] == notYet {
		r.known[i] = tooThin
		if s.facet(f, int(r.face[i]), s.by.tiny) {
			r.known[i] = hasPlane
		}
	}
	if r.known[i] == tooThin {
		return nil
	}
	return f
}

// compare adds triangle i of one leaf and j of another if they meet. A duplicate triangle is
// not a meeting: it is counted separately.
func (s *shelf) compare(r, o *ready, i, j int, found *meetings) {
	p, q := &r.corner[i], &o.corner[j]
	shared := 0
	for _, c := range p {
		if c == q[0] || c == q[1] || c == q[2] {
			if s.fan[c] {
				return
			}
			shared++
		}
	}
	if shared == 3 {
		return
	}
	a, b := s.plane(r, i), s.plane(o, j)
	if a == nil || b == nil || shared == 2 && unfolded(a, b) {
		return
	}
	if at, flat, ok := meet(a, b, s.by); ok {
		if found.more = len(found.list) >= maxMeetings; !found.more {
			found.list = append(found.list, meeting{a.face, b.face, at, flat})
		}
	}
}

// last is the last leaf below a node.
func (t *tree) last(n int) int {
	below := t.depth() - (bits.Len(uint(n)) - 1)
	return (n+1)<<below - 1 - t.leaves
}

// unfolded reports that two triangles at an edge do not fold back on each other.
func unfolded(a, b *facet) bool { return a.n.Dot(b.n) > 0 && windsAgainst(a, b) }

// windsAgainst reports whether two triangles traverse their shared edge in
// opposite directions, as neighbours on a sound surface do.
func windsAgainst(a, b *facet) bool {
	for i := range 3 {
		for j := range 3 {
			if a.corner[i] == b.corner[(j+1)%3] && a.corner[(i+1)%3] == b.corner[j] {
				return true
			}
		}
	}
	return false
}
