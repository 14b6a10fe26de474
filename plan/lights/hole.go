package lights

import "dryfit/kits"

// Hole is a hole that wires of the lamps run through.
type Hole struct {
	Piece  int
	Across float64 // mm
	Wires  int     // single ones
	Share  float64 // of the hole that they take
	Pos    kits.Pos
}

// holes adds up the wires that run through each piece, two for each branch. The
// kit states the narrowest hole on the run of each wire, so the hole in a piece
// is at least as wide as the widest of these.
func holes(k *kits.Kit) []Hole {
	if k.Lights.Cover == 0 {
		return nil
	}
	carried := map[*kits.Wire]int{}
	for _, b := range k.Lights.Branches {
		for _, w := range b.Wires {
			carried[w] += 2
		}
	}
	index := map[int]int{}
	var list []Hole
	for _, w := range k.Wires {
		if carried[w] == 0 || w.Hole == nil {
			continue
		}
		for _, p := range w.Through {
			i, known := index[p]
			if !known {
				i = len(list)
				index[p] = i
				list = append(list, Hole{Piece: p})
			}
			h := &list[i]
			h.Wires += carried[w]
			if *w.Hole > h.Across {
				h.Across, h.Pos = *w.Hole, w.HolePos
			}
		}
	}
	for i := range list {
		list[i].Share = Fill(list[i].Wires, k.Lights.Cover, list[i].Across)
	}
	return list
}

// FullHole is the share of a hole that wires should take at most (common practice: 40 to
// 50 %).
const FullHole = 0.5

// Fill is the share of a round hole that wires take, by area.
func Fill(wires int, across, hole float64) float64 {
	return float64(wires) * across * across / (hole * hole)
}
