package lights

import (
	"math"

	"dryfit/kits"
	"dryfit/kits/mesh"
)

// What a run gets beyond its straight pieces (common practice): a fifth for bends and
// clips, and 60 mm at each end to work with.
const (
	slackRun = 1.2
	spareEnd = 60
)

// maxRun bounds the pieces that a run is followed through, and sweeps how often its
// bends are moved.
const (
	maxRun = 100
	sweeps = 60
)

// straight is the length, in mm, of a short way from the supply's side to the lamps of
// a branch by straight stretches through the boxes of the pieces that its wires are
// threaded through. 0 if the wires are not stated or what they end at has no mesh.
func straight(k *kits.Kit, b *kits.Branch, from *mesh.Collection) float64 {
	var chain []int
	add := func(pieces ...int) bool {
		for _, p := range pieces {
			if len(chain) == 0 || chain[len(chain)-1] != p {
				chain = append(chain, p)
			}
			if len(chain) > maxRun {
				return false
			}
		}
		return true
	}
	for _, w := range b.Wires {
		if !add(w.From) || !add(w.Through...) || !add(w.To) {
			return 0
		}
	}
	if len(chain) == 0 {
		return 0
	}
	if !add(b.Lamps...) {
		return 0
	}
	var boxes []box
	for i, p := range chain {
		m := from.Mesh(k.Pieces[p].ID)
		end := i == 0 || i == len(chain)-1
		switch {
		case m != nil && end:
			boxes = append(boxes, box{m.Centre, m.Centre})
		case m != nil:
			boxes = append(boxes, box{m.Min, m.Max})
		case end:
			return 0
		}
	}
	return shortWay(boxes)
}

type box struct{ min, max [3]float64 }

// near is the point of the box nearest to p.
func (b box) near(p [3]float64) [3]float64 {
	for k := range 3 {
		p[k] = min(max(p[k], b.min[k]), b.max[k])
	}
	return p
}

// shortWay visits boxes in turn. Each bend is moved, over and over, to the point of its
// box nearest to the middle of its neighbours: the sum of the squares of the stretches
// becomes least, and their sum nearly so.
func shortWay(boxes []box) float64 {
	way := make([][3]float64, len(boxes))
	for i, b := range boxes {
		way[i] = b.near(boxes[0].min)
	}
	for range sweeps {
		for i := 1; i < len(way)-1; i++ {
			var middle [3]float64
			for k := range 3 {
				middle[k] = (way[i-1][k] + way[i+1][k]) / 2
			}
			way[i] = boxes[i].near(middle)
		}
	}
	sum := 0.0
	for i := 1; i < len(way); i++ {
		a, b := way[i-1], way[i]
		sum += math.Sqrt((a[0]-b[0])*(a[0]-b[0]) + (a[1]-b[1])*(a[1]-b[1]) + (a[2]-b[2])*(a[2]-b[2]))
	}
	return sum
}

// Hole is a hole that wires of the lamps run through.
type Hole struct {
	Piece  int
	Across float64 // mm
	Wires  int     // single ones
	Share  float64 // of the hole that they take
	Pos    kits.Pos
}

// holes adds up the wires that run through each piece, two for each branch. What the
// kit says of a wire is the narrowest hole of its run, so the widest of those of the
// wires through a piece is one that the hole in that piece has at least.
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
