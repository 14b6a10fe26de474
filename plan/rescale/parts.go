package rescale

import "dryfit/kits"

// parts lists the parts with their sizes: by the mesh of their first piece that has one,
// or as the kit says.
func (r *Report) parts() {
	f := r.Scaling.Factor
	var low, high [3]float64
	found := false
	for i, p := range r.Kit.Parts {
		out := &Part{Of: p}
		if was := r.Was.Kit.Parts[i].Size; was != nil {
			out.Was, out.Now = was.XYZ, p.Size.XYZ
		}
		for _, piece := range r.Kit.Copies(p) {
			m := r.mesh(piece)
			if m == nil || m.Len() == 0 {
				continue
			}
			if !p.FixedSize {
				low, high = spanned(low, high, m.Min, m.Max, !found)
				found = true
			}
			if out.Measured {
				continue
			}
			out.Measured, out.Was, out.Now = true, m.Size(), m.Size()
			if !p.FixedSize {
				out.Now = times(f, out.Was)
			}
			out.Volume = m.Volume
			if !p.FixedSize {
				out.Volume *= f * f * f
			}
		}
		if !out.Measured && p.Size != nil {
			out.Volume, out.AtMost = p.Size.XYZ[0]*p.Size.XYZ[1]*p.Size.XYZ[2], true
		}
		if p.ToPrint() {
			out.Wall = r.wall(p)
			if p.Material != nil {
				out.Mass = out.Volume / 1000 * p.Material.Density
			}
		}
		r.Parts = append(r.Parts, out)
	}
	if found {
		size := times(f, [3]float64{high[0] - low[0], high[1] - low[1], high[2] - low[2]})
		r.Model = &size
	}
}

// Mass sums up what is printed for a model, tooling and spares left out, in g; unknown
// are the parts whose volume nothing tells.
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

// spanned is the box around two boxes, or the second if it is the first of all.
func spanned(low, high, from, to [3]float64, first bool) (l, h [3]float64) {
	if first {
		return from, to
	}
	for k := range 3 {
		low[k], high[k] = min(low[k], from[k]), max(high[k], to[k])
	}
	return low, high
}

func times(f float64, v [3]float64) [3]float64 { return [3]float64{f * v[0], f * v[1], f * v[2]} }
