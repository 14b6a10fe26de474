package balance

import (
	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// How a mass is known.
type How string

// From best to worst.
const (
	Stated  How = "stated"  // by the kit
	Solid   How = "mesh"    // volume of its mesh, all of it printed
	Filled  How = "filled"  // volume of its mesh, filled in part
	BySize  How = "size"    // the box around it, so an upper bound
	Unknown How = "unknown" // left out
)

// Weight is what a piece weighs and where.
type Weight struct {
	Mass   float64
	How    How
	Fill   float64 // share of the inside that is printed, if Filled
	Centre geom.Vec
	Place  Place
}

// Place is how the position of a piece is known.
type Place string

// From best to worst.
const (
	Measured Place = "mesh"
	Borrowed Place = "carrier" // assumed to be that of the piece it is fitted to
	Nowhere  Place = "unknown"
)

// Weigh weighs all pieces of a kit, by their numbers. fill is the share of the inside of
// a part that is printed, 0 to 1.
func Weigh(rep *plan.Project, fill func(*kits.Part) float64) []Weight {
	list := make([]Weight, len(rep.Kit.Pieces))
	for p, pc := range rep.Kit.Pieces {
		w := &list[p]
		m := rep.Mesh(p)
		if w.Place = Nowhere; m != nil {
			w.Centre, w.Place = m.Centre, Measured
		}
		w.mass(pc.Part, m, fill(pc.Part))
	}
	for p := range list {
		borrow(rep.Kit, list, p)
	}
	return list
}

func (w *Weight) mass(p *kits.Part, m *mesh.Mesh, fill float64) {
	w.How = Unknown
	if p.Mass > 0 {
		w.Mass, w.How = p.Mass, Stated
		return
	}
	if p.Material == nil {
		return
	}
	var volume, area float64
	switch {
	case m != nil:
		volume, area, w.How = m.Volume, m.Area, Solid
	case p.Size != nil:
		s := p.Size.XYZ
		volume, area, w.How = s[0]*s[1]*s[2], 2*(s[0]*s[1]+s[1]*s[2]+s[2]*s[0]), BySize
	default:
		return
	}
	if fill < 1 {
		volume = (&mesh.Shape{Volume: volume, Area: area}).Material(fill)
		if w.How == Solid {
			w.How, w.Fill = Filled, fill
		}
	}
	w.Mass = volume / 1000 * p.Material.Density
}

// borrow finds the place of a piece without a mesh: that of the nearest piece
// below it with one. The pieces in between get the same place.
func borrow(k *kits.Kit, list []Weight, p int) {
	var chain []int
	at := p
	for list[at].Place == Nowhere {
		chain = append(chain, at)
		j := k.Fitted(at)
		if j == nil || len(chain) > maxChain {
			return
		}
		at = j.Onto[0]
	}
	for _, q := range chain {
		list[q].Centre, list[q].Place = list[at].Centre, Borrowed
	}
}

// maxChain bounds the pieces between one without a mesh and one with.
const maxChain = 100
