package rescale

import (
	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// parts lists the parts with their sizes: by the mesh of their first piece that has one,
// or as the kit says.
func (r *Report) parts() {
	f := r.Scaling.Factor
	var model *geom.Box // of what scales, at the old scale
	for i, p := range r.Kit.Parts {
		out := &Part{Of: p}
		if was := r.Was.Kit.Parts[i].Size; was != nil {
			out.Was, out.Now = was.XYZ, p.Size.XYZ
			out.Volume, out.AtMost = out.Now[0]*out.Now[1]*out.Now[2], true
		}
		for _, piece := range r.Kit.Copies(p) {
			m := r.Was.Mesh(piece)
			if m == nil {
				continue
			}
			if !p.FixedSize {
				model = grown(model, m.Box)
			}
			if !out.Measured {
				out.measure(m, f)
			}
		}
		if p.ToPrint() {
			out.Wall = r.wall(p)
			if p.Material != nil {
				out.Mass = out.Volume / 1000 * p.Material.Density
			}
		}
		r.Parts = append(r.Parts, out)
	}
	if model != nil {
		size := model.Size().Times(f)
		r.Model = &size
	}
}

// measure takes the size and volume of a mesh at the old scale.
func (p *Part) measure(m *mesh.Mesh, factor float64) {
	if p.Of.FixedSize {
		factor = 1
	}
	p.Measured, p.AtMost = true, false
	p.Was, p.Now = m.Size(), m.Size().Times(factor)
	p.Volume = m.Volume * (factor * factor * factor)
}

// grown is the box around two boxes, of which the first may be nil.
func grown(b *geom.Box, other geom.Box) *geom.Box {
	if b != nil {
		other = b.With(other.Min).With(other.Max)
	}
	return &other
}

// Mass sums up what is printed for a model, tooling and spares left out, in g; unknown
// are the parts whose volume is not known.
func (r *Report) Mass() (sum float64, atMost bool, unknown []*kits.Part) {
	for _, p := range r.Parts {
		switch {
		case !p.Of.ToPrint() || !p.Of.InModel():
		case p.Mass == 0:
			unknown = append(unknown, p.Of)
		default:
			sum += p.Mass * float64(p.Of.Quantity)
			atMost = atMost || p.AtMost
		}
	}
	return sum, atMost, unknown
}
