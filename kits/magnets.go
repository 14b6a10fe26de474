package kits

import "dryfit/kits/geom"

// Magnets are magnets that point the same way: all copies of a part, or one.
type Magnets struct {
	Pos    Pos
	Pieces []int
	North  geom.Vec // the way the north pole points in the finished model; any length
	Mates  []int    // the magnets they pair with, as many; empty if not stated
	Pocket *Pocket  // nil if not stated

	magnet, mates *Ref
	north         *geom.Vec
}

// Pocket is a round hole that takes a magnet, in mm.
type Pocket struct {
	Diameter, Depth float64
	Pos             Pos
}

// MagnetsOf is the entry for a piece that is a magnet; nil if there is none.
func (k *Kit) MagnetsOf(piece int) *Magnets { return k.magnetOf[piece] }

func (v *resolver) magnets() {
	k := v.kit
	k.magnetOf = map[int]*Magnets{}
	for _, m := range k.Magnets {
		if m.magnet == nil || m.north == nil {
			continue // already reported
		}
		m.North = *m.north
		if m.Pocket != nil {
			m.Pocket.Diameter *= k.Unit.MM
			m.Pocket.Depth *= k.Unit.MM
		}
		for _, p := range v.pieces("magnet", *m.magnet) {
			if other := k.magnetOf[p]; other != nil {
				v.fault(m.magnet.Pos, "magnet: %s already has an entry at %s; remove one", k.Pieces[p].ID, other.Pos)
				continue
			}
			k.magnetOf[p] = m
			m.Pieces = append(m.Pieces, p)
		}
	}
	for _, m := range k.Magnets {
		if m.mates != nil && len(m.Pieces) > 0 {
			v.mates(m)
		}
	}
}

func (v *resolver) mates(m *Magnets) {
	list := v.pieces("mates", *m.mates)
	if len(list) == 0 {
		return // already reported
	}
	if len(list) != len(m.Pieces) {
		v.fault(m.mates.Pos, "mates: there are %[2]d of %[1]s and %[4]d of %[3]s; each magnet pairs with one", m.magnet.Name, len(m.Pieces), m.mates.Name, len(list))
		return
	}
	for _, p := range list {
		if v.kit.magnetOf[p] == nil {
			v.fault(m.mates.Pos, "mates: %s has no entry under magnets; add one with the direction of its north pole", v.kit.Pieces[p].ID)
			return
		}
		if v.kit.magnetOf[p] == m {
			v.fault(m.mates.Pos, "mates: %s cannot pair with itself; name the magnet it pairs with", v.kit.Pieces[p].ID)
			return
		}
	}
	m.Mates = list
}
