package health

import (
	"slices"

	"dryfit/kits/geom"
)

// shell is a set of triangles connected by edges.
type shell struct {
	faces  int
	face   int     // its largest triangle
	area   float64 // of that one, scaled and squared
	volume float64 // mm3, negative if inside out
	open   bool    // some of its edges are
	cut    bool    // it meets another shell, so its depth is unreliable
	depth  int     // layers of solid around it, less hollows
}

// The depth of a closed shell and the sign of its volume say what it is.
func (h *shell) hollow() bool  { return !h.open && !h.cut && h.volume < 0 && h.depth > 0 }
func (h *shell) flipped() bool { return !h.open && !h.cut && h.volume < 0 && h.depth <= 0 }
func (h *shell) within() bool  { return !h.open && !h.cut && h.volume > 0 && h.depth > 0 }
func (h *shell) body() bool    { return !h.hollow() && !h.within() }

// shellList measures the shells of a surface.
func (s *surface) shellList(e *edges) []shell {
	list := make([]shell, e.shells)
	var origin geom.Vec
	if len(s.corners) > 0 {
		origin = s.point(0)
	}
	for i, f := range s.faces {
		h := &list[e.shell[i]]
		h.faces++
		x, y, z := s.normal(i)
		p := &s.corners[f[0]]
		h.volume += ((float64(p[0])-origin[0])*x + (float64(p[1])-origin[1])*y + (float64(p[2])-origin[2])*z) / 6
		if a := x*x + y*y + z*z; h.faces == 1 || a > h.area {
			h.face, h.area = i, a
		}
	}
	for _, f := range e.openFaces {
		list[e.shell[f]].open = true
	}
	return list
}

// maxCasts limits the boxes and triangles visited to find which shell is inside which.
const maxCasts = 40_000_000

// nest computes the depth of each shell in the others. It reports false if there
// are too many.
func (t *tree) nest(list []shell, e *edges) bool {
	if len(list) == 1 || !slices.ContainsFunc(list, func(h shell) bool { return !h.open }) {
		return true
	}
	t.exactly()
	left := maxCasts
	for i := range list {
		if left -= t.dive(list, i, left, e); left < 0 {
			return false
		}
	}
	return true
}

// directions are those of the rays from a shell that find what is around it. None
// runs along a likely edge. The third decides if the first two disagree.
var directions = [3]geom.Vec{{0.5417, 0.3301, 0.7729}, {-0.2913, 0.8677, -0.4027}, {0.6121, -0.7243, 0.3177}}

// dive computes the depth of a shell: whenever a ray from it leaves a closed
// shell, it was inside that shell; whenever it enters one, it was in a hollow or
// outside.
func (t *tree) dive(list []shell, i, most int, e *edges) (looked int) {
	from := t.s.middle(list[i].face)
	for n, dir := range directions {
		depth := 0
		looked += t.cast(newRay(from, dir), most-looked, func(c crossed) {
			if j := int(e.shell[c.face]); j == i || list[j].open {
				return
			}
			if c.out {
				depth++
			} else {
				depth--
			}
		})
		agreed := n == 1 && depth == list[i].depth
		list[i].depth = depth
		if agreed {
			break
		}
	}
	return looked
}
