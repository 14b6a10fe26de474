package plan

// mm writes lengths given in mm in the unit of the kit file: 62 x 38 mm.
func (r *Constraints) MM(sides ...float64) string { return r.Kit.Unit.Lengths(sides...) }
