package kits

import (
	"strings"

	"dryfit/kits/format"
)

// Balance is where the finished model must balance, and its ballast. Lengths are mm.
type Balance struct {
	Pos     Pos
	Along   int // the axis: 0 for x, 1 for y, 2 for z
	Support float64
	Margin  float64  // least distance from the support to the centre of mass, toward the ballast
	Ballast *Part    // nil if there is none
	At      *float64 // where the ballast is; nil for the middle of its mesh
	Pack    float64  // packed density of the ballast, g/cm3
	Room    float64  // cm3; 0 if not stated
	RoomPos Pos
	Inside  *Size    // of the box that holds the ballast, if Room follows from it
	Fill    *float64 // infill of filament parts that state none, 0 to 1
	Weighed *Weighed // nil if the model has not been weighed

	along                           string
	support, margin, at, pack, room *format.Number
	ballast                         *Ref
}

// Weighed is the finished model without its ballast, dry, on a scale.
type Weighed struct {
	Pos  Pos
	Mass float64 // g
	At   float64 // mm along the axis, where it balances

	mass, at format.Number
}

// maxMass bounds masses, in g: a model that one person can lift.
const maxMass = 1e5

// Usual values of a balance (common practice): 5 to 10 mm of margin at 1:32, steel
// shot that packs at 4.6 g/cm3.
const (
	usualMargin = 8
	usualPack   = 4.6
)

// Values below these are mistakes, such as wrong units.
const (
	leastPack = 0.1  // g/cm3
	leastRoom = 1e-3 // cm3
)

func (v *resolver) masses() {
	for _, p := range v.kit.Parts {
		p.Mass = or(p.mass, 0)
		if p.Fill != nil && p.Printed == Resin {
			v.fault(p.Pos, "fill: %s is printed in resin, so it is solid; remove fill, or hollow out its mesh", p.ID)
		}
	}
}

func (v *resolver) balance() {
	b := v.kit.Balance
	if b == nil || b.support == nil {
		return // none, or already reported
	}
	mm := v.kit.Unit.MM
	b.Along = strings.Index("xyz", b.along)
	b.Support = b.support.Value * mm
	b.Margin = v.mm(b.margin, usualMargin)
	b.Pack = or(b.pack, usualPack)
	if b.at != nil {
		at := b.at.Value * mm
		b.At = &at
	}
	switch {
	case b.room != nil:
		b.Room, b.RoomPos = b.room.Value, b.room.Pos
	case b.Inside != nil:
		b.Inside.scale(mm)
		in := b.Inside.XYZ
		b.Room, b.RoomPos = 1e-3*in[0]*in[1]*in[2], b.Inside.Pos
	}
	if b.pack != nil && b.Pack < leastPack {
		v.fault(b.pack.Pos, "pack: %g g/cm3 is too low; steel shot packs at 4.6", b.Pack)
	}
	if b.RoomPos.Line > 0 && b.Room < leastRoom {
		v.fault(b.RoomPos, "balance: %g cm3 is too small; give cm3 under room, or lengths under inside", b.Room)
	}
	if w := b.Weighed; w != nil {
		w.Mass, w.At = w.mass.Value, w.at.Value*mm
	}
	if b.ballast == nil {
		return
	}
	p := v.kit.partOf[b.ballast.Name]
	switch {
	case p == nil:
		v.fault(b.ballast.Pos, "ballast: no part is called %q%s", b.ballast.Name, v.Suggest(b.ballast.Name, v.known.parts))
	case !p.InModel():
		v.fault(b.ballast.Pos, "ballast: %s is %s and is never part of the model; change its class", p.ID, p.Class)
	default:
		b.Ballast = p
	}
}

// FillOf is the infill of a part, 0 to 1: its own or, for filament, that of the balance;
// otherwise the part is solid.
func (k *Kit) FillOf(p *Part) float64 {
	switch {
	case p.Printed != Filament || !p.ToPrint():
		return 1
	case p.Fill != nil:
		return *p.Fill
	case k.Balance != nil && k.Balance.Fill != nil:
		return *k.Balance.Fill
	}
	return 1
}
