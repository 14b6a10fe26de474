package balance

import (
	"dryfit/kits"
	"dryfit/kits/mesh"
)

// How a mass is known.
type How string

// From the best to the worst.
const (
	Stated  How = "stated"  // by the kit
	Solid   How = "mesh"    // volume of its mesh, all of it printed
	Filled  How = "filled"  // volume of its mesh, filled in part
	BySize  How = "size"    // the box around it, so the most it can be
	Unknown How = "unknown" // left out
)

// Weight is what a piece weighs and where.
type Weight struct {
	Mass   float64
	How    How
	Fill   float64 // share of the inside that is printed, of what is Filled
	Centre [3]float64
	Place  Place
}

// Place is how it is known where a piece is.
type Place string

// From the best to the worst.
const (
	Measured Place = "mesh"
	Borrowed Place = "carrier" // it is taken to be where what it is fitted to is
	Nowhere  Place = "unknown"
)

// Weigh weighs all pieces of a kit, by their numbers. The source is nil for a kit
// without meshes.
func Weigh(k *kits.Kit, from *mesh.Collection) []Weight {
	return weigh(k, from, func(p *kits.Part) float64 { return k.FillOf(p) })
}

// weigh is Weigh with each part filled as told.
func weigh(k *kits.Kit, from *mesh.Collection, fill func(*kits.Part) float64) []Weight {
	list := make([]Weight, len(k.Pieces))
	for p, pc := range k.Pieces {
		w := &list[p]
		m := from.Mesh(pc.ID)
		if w.Place = Nowhere; m != nil {
			w.Centre, w.Place = m.Centre, Measured
		}
		w.mass(pc.Part, m, fill(pc.Part))
	}
	for p := range list {
		borrow(k, list, p)
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

// borrow finds the place of a piece without a mesh: that of the nearest piece below it
// that has one. What is passed on the way gets the same.
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
