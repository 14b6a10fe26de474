package plan

import (
	"slices"

	"dryfit/kits"
)

// Superglue vapour settles on clear parts as a white haze, and does so most in a closed
// space (common practice in the trade).

// isClear reports whether a piece is kept clear.
func isClear(k *kits.Kit, piece int) bool {
	p := k.Pieces[piece].Part
	return p.Paint == "masked" || p.Material != nil && wordsOf(p.Material.ID).any("clear", "transparent")
}

// nearClear reports whether a join is of a clear piece, of one on which a clear one
// sits or that sits on a clear one, or in a closed space with one.
func nearClear(k *kits.Kit, j *kits.Join) bool {
	clear := func(p int) bool { return isClear(k, p) }
	if slices.ContainsFunc(slices.Concat(j.Pieces, j.Onto), clear) {
		return true
	}
	for _, other := range k.Joins {
		if slices.ContainsFunc(j.Pieces, func(p int) bool { return slices.Contains(other.Onto, p) }) && slices.ContainsFunc(other.Pieces, clear) {
			return true
		}
	}
	return sharesSpace(k, j.Pieces, clear)
}

// sharesSpace reports whether a piece for which something is so is in a closed space
// with one of some pieces, or closes it. A space and those inside it are one.
func sharesSpace(k *kits.Kit, pieces []int, is func(int) bool) bool {
	in := map[*kits.Space]bool{}
	for _, s := range k.Spaces {
		if slices.ContainsFunc(bounds(s), func(p int) bool { return slices.Contains(pieces, p) }) {
			in[outermost(s)] = true
		}
	}
	return slices.ContainsFunc(k.Spaces, func(s *kits.Space) bool {
		return in[outermost(s)] && slices.ContainsFunc(bounds(s), is)
	})
}

// bounds are the pieces in a space and those that close it.
func bounds(s *kits.Space) []int {
	var list []int
	for _, h := range s.Holds {
		list = append(list, h.Piece)
	}
	for _, c := range s.ClosedBy {
		if c.Piece >= 0 {
			list = append(list, c.Piece)
		}
	}
	return list
}

func outermost(s *kits.Space) *kits.Space {
	for s.Inside != nil {
		s = s.Inside
	}
	return s
}

// touchesClear reports whether a piece that a join fits touches a clear one by the
// meshes.
func (r *Constraints) touchesClear(j *kits.Join) bool {
	if r.Geometry == nil {
		return false
	}
	return slices.ContainsFunc(r.Geometry.Touching, func(t Touch) bool {
		return slices.Contains(j.Pieces, t.A) && isClear(r.Kit, t.B) || slices.Contains(j.Pieces, t.B) && isClear(r.Kit, t.A)
	})
}
