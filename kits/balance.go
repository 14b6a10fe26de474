package kits

import (
	"strings"

	"dryfit/kits/format"
)

// Balance says where the finished model must balance, and what its ballast is.
// Lengths are mm.
type Balance struct {
	Pos     Pos
	Along   int // the axis: 0 for x, 1 for y, 2 for z
	Support float64
	Margin  float64  // how far on the ballast's side of the support it must balance at least
	Ballast *Part    // nil if there is none
	At      *float64 // where the ballast is; nil to take the middle of its mesh
	Pack    float64  // g/cm3, as the ballast lies
	Room    float64  // cm3; 0 if not stated
	RoomPos Pos
	Inside  *Size    // of the box that takes the ballast, if that says the room
	Fill    *float64 // of filament parts that do not say
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

// maxMass bounds masses, in g: a model that one person lifts.
const maxMass = 1e5

// Usual values of a balance (common practice): 5 to 10 mm of margin at 1:32, steel
// shot that lies at 4.6 g/cm3.
const (
	usualMargin = 8
	usualPack   = 4.6
)

// Slips: below these there is no ballast and no room.
const (
	leastPack = 0.1  // g/cm3
	leastRoom = 1e-3 // cm3
)

func (v *resolver) masses() {
	for _, p := range v.kit.Parts {
		p.Mass = or(p.mass, 0)
		if p.Fill != nil && p.Printed == Resin {
			v.fault(p.Pos, "fill: %s is printed in resin, which is solid; leave fill out, or hollow its mesh", p.ID)
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
		v.fault(b.pack.Pos, "pack: nothing lies at %g g/cm3; steel shot does at 4.6", b.Pack)
	}
	if b.RoomPos.Line > 0 && b.Room < leastRoom {
		v.fault(b.RoomPos, "balance: %g cm3 is no room; give cm3 with room, or lengths with inside", b.Room)
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
		v.fault(b.ballast.Pos, "ballast: %s is %s and is never in the model; change its class", p.ID, p.Class)
	default:
		b.Ballast = p
	}
}

// FillOf is how full a part is printed inside its walls, 0 to 1: what it says or, of
// filament, what the balance says; else solid.
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
