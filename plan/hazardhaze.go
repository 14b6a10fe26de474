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
	return p.Paint == kits.PaintMasked || p.Material != nil && wordsOf(p.Material.ID).any("clear", "transparent")
}

// fogs reports whether superglue in a join fogs a clear piece.
func fogs(k *kits.Kit, j *kits.Join, nearClear []bool) bool {
	return slices.ContainsFunc(j.Pieces, func(p int) bool { return nearClear[p] }) ||
		slices.ContainsFunc(j.Onto, func(p int) bool { return isClear(k, p) })
}

// nearClear lists for each piece whether it is clear, or a clear piece sits on it, or
// touches it by the meshes, or is in a closed space with it. A space and those inside
// it are one, with what closes them.
func nearClear(k *kits.Kit, g *Geometry) []bool {
	bare := make([]bool, len(k.Pieces))
	for p := range k.Pieces {
		bare[p] = isClear(k, p)
	}
	near, isBare := slices.Clone(bare), func(p int) bool { return bare[p] }
	for _, j := range k.Joins {
		if slices.ContainsFunc(j.Pieces, isBare) {
			for _, p := range j.Onto {
				near[p] = true
			}
		}
	}
	holds := map[*kits.Space]bool{}
	for _, s := range k.Spaces {
		holds[outermost(s)] = holds[outermost(s)] || slices.ContainsFunc(bounds(s), isBare)
	}
	for _, s := range k.Spaces {
		for _, p := range bounds(s) {
			near[p] = near[p] || holds[outermost(s)]
		}
	}
	if g != nil {
		for _, t := range g.Touching {
			near[t.A], near[t.B] = near[t.A] || bare[t.B], near[t.B] || bare[t.A]
		}
	}
	return near
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
