package draft

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// geometry is what was measured, by the numbers of the pieces of a drafted kit. All kits
// of a draft have the same pieces.
func (d *draft) geometry(k *kits.Kit) *plan.Geometry {
	if d.renumbered != nil {
		return d.renumbered
	}
	g := *d.measured
	own := make([]int, len(k.Pieces)) // piece of the kit -> as measured
	of := slices.Repeat([]int{-1}, len(d.ids))
	for i, p := range k.Pieces {
		own[i] = d.number[p.ID]
		of[own[i]] = i
	}
	g.Measured, g.Sizes, g.InTheWay, g.Clashes, g.Touching = nil, nil, nil, nil, nil
	for _, p := range own {
		g.Measured, g.Sizes = append(g.Measured, d.measured.Measured[p]), append(g.Sizes, d.measured.Sizes[p])
	}
	for _, byPiece := range d.measured.InTheWay {
		list := make([][]int32, len(own))
		for i, p := range own {
			list[i] = renumbered(byPiece[p], of)
		}
		g.InTheWay = append(g.InTheWay, list)
	}
	d.addWays(&g, of)
	d.renumbered = &g
	return &g
}

func renumbered[N int | int32](list []N, of []int) []int32 {
	out := make([]int32, 0, len(list))
	for _, q := range list {
		if of[q] >= 0 {
			out = append(out, int32(of[q]))
		}
	}
	return out
}

// addWays adds the ways of several legs and past undercuts by which the model was taken
// apart. Whatever was off by then counts as being in the way of legs.
func (d *draft) addWays(g *plan.Geometry, of []int) {
	for _, v := range d.disassembly.Moves {
		switch {
		case v.Undercut > 0:
			leaving := slices.Index(g.Directions, v.Legs[0].Toward)
			for _, p := range v.Pieces {
				if leaving >= 0 {
					g.Undercuts[of[p]] = append(g.Undercuts[of[p]], plan.Undercut{Direction: leaving, Width: v.Undercut, Past: renumbered(v.Rest, of)})
				}
			}
		case len(v.Legs) > 1 && len(v.Pieces) == 1:
			stands := map[int]bool{v.Pieces[0]: true}
			for _, p := range v.Rest {
				stands[p] = true
			}
			var off []int32
			for p := range d.ids {
				if !stands[p] {
					off = append(off, int32(p))
				}
			}
			p := of[v.Pieces[0]]
			g.Legs[p] = append(g.Legs[p], plan.Legs{Legs: v.Legs, InTheWay: renumbered(off, of)})
		}
	}
}
