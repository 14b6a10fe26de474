package health

import (
	"math"

	"dryfit/kits/disjoint"
	"dryfit/kits/geom"
)

const (
	// lastDigits is by how much two corners that are meant to be one may differ, as a share
	// of the size of a mesh or of its distance from the origin. Files of text have six or
	// seven digits, and one in the sixth is up to a hundred-thousandth of the number. Ours.
	lastDigits = 1e-5

	// maxLoose is the most corners at open edges that are looked at: a mesh with more is not
	// open by its last digits.
	maxLoose = 200_000
)

// closeUp joins corners at open edges that differ in their last digits only. It returns the
// surface before if that closes nothing, or spoils anything.
func closeUp(s *surface, e *edges, within float64) (*surface, *edges) {
	if e.open.n == 0 || e.open.n > maxLoose || within == 0 {
		return s, e
	}
	lead, gap := s.near(e.openFaces, within)
	if gap == 0 {
		return s, e
	}
	t := &surface{corners: s.corners, faces: make([][3]uint32, 0, len(s.faces)), collapsed: s.collapsed, collapse: s.collapse, joined: true}
	for _, f := range s.faces {
		for k, c := range f {
			if l, moved := lead[c]; moved {
				f[k] = l
			}
		}
		t.add(f)
	}
	closed := t.edges()
	if closed.open.n >= e.open.n || closed.many.n > e.many.n || closed.reversed.n > e.reversed.n {
		return s, e
	}
	closed.closed, closed.gap, closed.gapAt = e.open.n-closed.open.n, gap, e.open.at
	return t, closed
}

// near finds corners of some triangles that are within a distance of each other. It returns
// for each the one that it is the same as, unless it is that itself, and the largest
// distance found.
func (s *surface) near(faces []uint32, within float64) (lead map[uint32]uint32, gap float64) {
	type cell [3]int64
	at := func(p geom.Vec) (c cell) {
		for k := range 3 {
			c[k] = int64(math.Floor(p[k] / within))
		}
		return c
	}
	var corners []uint32
	seen := map[uint32]bool{}
	for _, f := range faces {
		for _, c := range s.faces[f] {
			if !seen[c] {
				seen[c] = true
				corners = append(corners, c)
			}
		}
	}
	sets := disjoint.New(len(corners))
	in := map[cell][]int{}
	for i, c := range corners {
		p := s.point(c)
		home := at(p)
		for d := range 27 {
			for _, j := range in[cell{home[0] + int64(d%3) - 1, home[1] + int64(d/3%3) - 1, home[2] + int64(d/9) - 1}] {
				if far := p.Minus(s.point(corners[j])).Length(); far <= within {
					sets.Join(i, j)
					gap = max(gap, far)
				}
			}
		}
		in[home] = append(in[home], i)
	}
	lead = map[uint32]uint32{}
	for i, c := range corners {
		if l := sets.Find(i); l != i {
			lead[c] = corners[l]
		}
	}
	return lead, gap
}
