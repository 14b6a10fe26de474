package kits

import "dryfit/kits/format"

// resolve resolves every name of the kit, fills in defaults, and converts every
// length to mm. It adds what is wrong to faults.
func (k *Kit) resolve(faults *Faults) {
	v := &resolver{kit: k, faults: faults}
	v.fixings()
	v.parts()
	v.joins()
	v.spaces()
	v.wires()
	v.tasks()
	v.steps()
	v.order()
	v.service()
	v.lengths()
	v.materials()
	v.printers()
	v.masses()
	v.balance()
	v.lights()
	v.magnets()
	k.rings(faults)
}

type resolver struct {
	format.Suggester
	kit       *Kit
	faults    *Faults
	stepNames map[string]Target
	known     struct{ parts, spaces, fixings, steps []string }
	named     int // pieces that the names so far refer to
}

func (v *resolver) fault(p Pos, format string, args ...any) { v.faults.Add(p, format, args...) }
