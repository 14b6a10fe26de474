package health

// Limits on the search for triangles that meet.
const (
	maxMeetings = 1000       // in each part of a surface
	partLeaves  = 2048       // leaves of such a part
	groupLeaves = 16         // leaves for which those nearby are looked up together
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
	p := &pairs{tree: t, by: by, fan: fan, found: &found, left: max(maxPairs*leafSize*(end-first), leastPairs)}
	for l := first; l < end && !found.more && !found.given; l += groupLeaves {
		last := min(l+groupLeaves, end)
		near := p.nearby(l, last)
		for len(near) > 0 && near[0] < last && !found.more && p.left >= 0 {
			p.leaf(near)
			near = near[1:]
		}
		found.given = p.left < 0
	}
	return found
}

// nearby lists the leaves from the first on, in order, that overlap a group of leaves; the
// group, as far as it is not empty, comes first.
func (p *pairs) nearby(first, end int) []int {
	box := noBox
	for _, b := range p.nodes[p.leaves+first : p.leaves+end] {
		box = box.join(b)
	}
	p.near = p.near[:0]
	p.stack = append(p.stack[:0], 1)
	for len(p.stack) > 0 && p.left >= 0 {
		n := p.stack[len(p.stack)-1]
		p.stack = p.stack[:len(p.stack)-1]
		p.left--
		if p.last(n) < first || !p.nodes[n].overlaps(box) {
			continue
		}
		if n < p.leaves {
			p.stack = append(p.stack, 2*n+1, 2*n)
		} else {
			p.near = append(p.near, n-p.leaves)
		}
	}
	return p.near
}

// leaf compares the first of some leaves with itself and with the others.
func (p *pairs) leaf(near []int) {
	from, to := p.tree.leaf(near[0])
	own, all := p.packed[from:to], p.nodes[p.leaves+near[0]]
	p.first = from
	for i := range own {
		for j := range i {
			if own[i].overlaps(own[j]) {
				p.compare(from+i, from+j)
			}
		}
	}
	for _, n := range near[1:] {
		p.left--
		if p.nodes[p.leaves+n].overlaps(all) {
			p.left -= leafSize * leafSize
			p.between(near[0], n)
		}
	}
}

// between compares two leaves.
func (p *pairs) between(l, n int) {
	from, to := p.tree.leaf(l)
	own, all, box := p.packed[from:to], p.nodes[p.leaves+l], p.nodes[p.leaves+n]
	var few [leafSize]int
	k := 0
	for i, b := range own {
		few[k] = i
		if b.overlaps(box) {
			k++
		}
	}
	first, end := p.tree.leaf(n)
	for j := first; j < end && k > 0; j++ {
		b := p.packed[j]
		if !b.overlaps(all) {
			continue
		}
		for _, i := range few[:k] {
			if own[i].overlaps(b) {
				p.compare(from+i, j)
			}
		}
	}
}

// pairs compares triangles whose boxes overlap. It keeps the planes of those compared last:
// a triangle is compared with several around it.
type pairs struct {
	*tree
	by    slack
	fan   []bool // of each corner
	found *meetings
	left  int   // how much may still be compared
	near  []int // leaves near the group being compared
	stack []int // nodes to look at
	first int   // the place in the order of the first triangle of the leaf being compared
	own   [leafSize]plane
	other [1024]plane
}

// plane is a triangle with its plane.
type plane struct {
	facet
	at   int // its place in the order, plus one
	thin bool
}

// facet is a triangle with its plane, or nil if it is too thin to have one. Those of the leaf
// being compared have a place of their own, so that none takes that of its partner.
func (p *pairs) facet(at int) *facet {
	k := &p.other[at%len(p.other)]
	if own := at - p.first; own >= 0 && own < leafSize {
		k = &p.own[own]
	}
	if k.at != at+1 {
		k.at, k.thin = at+1, !p.s.facet(&k.facet, int(p.order[at]), p.by.tiny)
	}
	if k.thin {
		return nil
	}
	return &k.facet
}

// compare adds two triangles, given by their places in the order, if they meet. A duplicate
// triangle is not a meeting: it is counted separately.
func (p *pairs) compare(i, j int) {
	a, b := &p.s.faces[p.order[i]], &p.s.faces[p.order[j]]
	first, second, third := among(a[0], b), among(a[1], b), among(a[2], b)
	if first&one(p.fan[a[0]])|second&one(p.fan[a[1]])|third&one(p.fan[a[2]]) != 0 {
		return
	}
	shared := first + second + third
	if shared == 3 {
		return
	}
	f, g := p.facet(i), p.facet(j)
	if f == nil || g == nil || shared == 2 && unfolded(f, g) {
		return
	}
	if at, flat, ok := meet(f, g, p.by); ok {
		if p.found.more = len(p.found.list) >= maxMeetings; !p.found.more {
			p.found.list = append(p.found.list, meeting{f.face, g.face, at, flat})
		}
	}
}

// among is 1 for a corner of a triangle, otherwise 0. Whether two triangles share a corner
// cannot be guessed, and sums cost less than branches guessed wrong.
func among(c uint32, b *[3]uint32) uint8 {
	return one(c == b[0]) | one(c == b[1]) | one(c == b[2])
}

func one(yes bool) uint8 {
	if yes {
		return 1
	}
	return 0
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
