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
func (t *tree) meetings(by slack) meetings {
	parts := make([]meetings, (t.leaves+partLeaves-1)/partLeaves)
	each(t.ctx, len(parts), func(i int) {
		first := i * partLeaves
		parts[i] = t.meetingsFrom(first, min(first+partLeaves, t.leaves), by)
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
func (t *tree) meetingsFrom(first, end int, by slack) (found meetings) {
	left := max(maxPairs*leafSize*(end-first), leastPairs)
	shelf := &shelf{tree: t, tiny: by.tiny}
	stack := make([]int, 0, 2*t.depth()+2)
	for l := first; l < end && !found.more && !found.given; l++ {
		box := &t.boxes[t.leaves+l]
		own := *shelf.leaf(l)
		stack = append(stack[:0], 1)
		for len(stack) > 0 {
			n := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			left--
			switch {
			case t.last(n) < l || !t.boxes[n].meets(box):
			case n < t.leaves:
				stack = append(stack, 2*n+1, 2*n)
			case n == t.leaves+l:
				for i := range own.n {
					for j := range i {
						if own.list[i].box.meets(&own.list[j].box) {
							found.meet(&own.list[i], &own.list[j], by)
						}
					}
				}
			default:
				other := shelf.leaf(n - t.leaves)
				left -= leafSize * leafSize
				for j := range other.n {
					b := &other.list[j]
					if !b.box.meets(box) {
						continue
					}
					for i := range own.n {
						if own.list[i].box.meets(&b.box) {
							found.meet(&own.list[i], b, by)
						}
					}
				}
			}
		}
		found.given = left < 0
	}
	return found
}

// shelf caches the leaves used last: a leaf is compared with those around it, and
// so is the next.
type shelf struct {
	tree *tree
	tiny float64
	kept [256]ready
}

// ready is the triangles of a leaf that are not too thin.
type ready struct {
	leaf int // plus one
	n    int
	list [leafSize]facet
}

func (s *shelf) leaf(l int) *ready {
	r := &s.kept[l%len(s.kept)]
	if r.leaf == l+1 {
		return r
	}
	r.leaf, r.n = l+1, 0
	for _, face := range s.tree.leaf(l) {
		if f := &r.list[r.n]; s.tree.s.facet(f, int(face), s.tiny) {
			r.n++
		}
	}
	return r
}

// meet adds a pair of triangles if they meet.
func (m *meetings) meet(a, b *facet, by slack) {
	if apart(a, b) {
		return
	}
	if at, flat, ok := meet(a, b, by); ok {
		if m.more = len(m.list) >= maxMeetings; !m.more {
			m.list = append(m.list, meeting{a.face, b.face, at, flat})
		}
	}
}

// last is the last leaf below a node.
func (t *tree) last(n int) int {
	below := t.depth() - (bits.Len(uint(n)) - 1)
	return (n+1)<<below - 1 - t.leaves
}

// apart quickly rules out most pairs: neighbours at an edge that do not fold back
// on each other. A duplicate triangle is not a meeting: it is counted separately.
func apart(a, b *facet) bool {
	shared := 0
	for _, c := range a.corner {
		if c == b.corner[0] || c == b.corner[1] || c == b.corner[2] {
			shared++
		}
	}
	return shared == 3 || shared == 2 && a.n.Dot(b.n) > 0 && windsAgainst(a, b)
}

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
