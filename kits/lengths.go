package kits

// DefaultFit is the gap in mm up to which pieces count as touching: printed parts are made
// with 0.1 to 0.5 mm to spare where they go into each other. Common practice.
const DefaultFit = 0.5

// lengths converts all lengths from the units of the file into mm.
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
	k.Fit = DefaultFit
	if k.fit != nil {
		k.Fit = k.fit.Value * unit
	}
	if unit == 1 {
		return
	}
	for _, p := range k.Parts {
		p.Size.scale(unit)
	}
	for _, j := range k.Joins {
		j.Size.scale(unit)
	}
	for _, w := range k.Wires {
		for _, x := range []*float64{w.Across, w.Hole} {
			if x != nil {
				*x *= unit
			}
		}
	}
	for _, o := range k.openings() {
		o.W *= unit
		o.H *= unit
	}
}

func (s *Size) scale(by float64) {
	if s != nil {
		s.XYZ = s.XYZ.Times(by)
	}
}

// openings lists each clear opening once. The copies of a closer, which are
// consecutive, share one.
func (k *Kit) openings() []*Opening {
	var list []*Opening
	for _, s := range k.Spaces {
		var last *Opening
		for _, c := range s.ClosedBy {
			if c.Opening != nil && c.Opening != last {
				list = append(list, c.Opening)
			}
			last = c.Opening
		}
	}
	return list
}
