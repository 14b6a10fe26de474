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
	now := r.Now.Meshes
	var model *geom.Box // of what scales, at the old scale
	for i, p := range r.Kit.Parts {
		out := &Part{Of: p}
		if was := r.Was.Kit.Parts[i].Size; was != nil {
			out.Was, out.Now = was.XYZ, p.Size.XYZ
			out.Volume, out.AtMost = out.Now[0]*out.Now[1]*out.Now[2], true
			out.was, out.now = out.Was[0]*out.Was[1]*out.Was[2], out.Volume
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
				out.measure(m, now.Mesh(r.Kit.Pieces[piece].ID), r.Kit.FillOf(p))
			}
		}
		if p.ToPrint() {
			out.Wall = r.wall(p)
			if p.Material != nil {
				out.Mass, out.WasMass = out.now/1000*p.Material.Density, out.was/1000*p.Material.Density
			}
		}
		r.Parts = append(r.Parts, out)
	}
	if model != nil {
		size := model.Size().Times(f)
		r.Model = &size
	}
}

// measure takes the sizes and volumes of a mesh at both scales. What is printed of it does
// not grow with the cube where filament is filled in part: walls keep their thickness.
func (p *Part) measure(was, now *mesh.Mesh, fill float64) {
	p.Measured, p.AtMost = true, false
	p.Was, p.Now = was.Size(), now.Size()
	p.Volume = now.Volume
	p.was, p.now = was.Material(fill), now.Material(fill)
}

// grown is the box around two boxes, of which the first may be nil.
func grown(b *geom.Box, other geom.Box) *geom.Box {
	if b != nil {
		other = b.With(other.Min).With(other.Max)
	}
	return &other
}

// Mass sums up what is printed for a model at both scales, tooling and spares left out, in
// g; unknown are the parts whose volume is not known.
func (r *Report) Mass() (now, was float64, atMost bool, unknown []*kits.Part) {
	for _, p := range r.Parts {
		switch n := float64(p.Of.Quantity); {
		case !p.Of.ToPrint() || !p.Of.InModel():
		case p.Mass == 0:
			unknown = append(unknown, p.Of)
		default:
			now, was = now+n*p.Mass, was+n*p.WasMass
			atMost = atMost || p.AtMost
		}
	}
	return now, was, atMost, unknown
}
