package kits

// lengths turns all lengths from the units of the file into mm.
func (v *resolver) lengths() {
	k := v.kit
	if k.units == "" {
		k.units = "mm"
	}
	unit := map[string]float64{"mm": 1, "cm": 10, "in": 25.4}[k.units]
	k.Unit = Unit{k.units, unit}
	k.Clearance = 1
	if k.clearance != nil {
		k.Clearance = k.clearance.Value * unit
	}
	if unit == 1 {
		return
	}
	scale := func(s *Size) {
		if s != nil {
			for i := range s.XYZ {
				s.XYZ[i] *= unit
			}
		}
	}
	for _, p := range k.Parts {
		scale(p.Size)
	}
	for _, j := range k.Joins {
		scale(j.Size)
	}
	for _, w := range k.Wires {
		for _, x := range []*float64{w.Across, w.Hole} {
			if x != nil {
				*x *= unit
			}
		}
	}
	done := map[*Opening]bool{}
	for _, s := range k.Spaces {
		for _, c := range s.ClosedBy {
			if o := c.Opening; o != nil && !done[o] {
				done[o] = true // copies of one closer share the opening
				o.W *= unit
				o.H *= unit
			}
		}
	}
}
