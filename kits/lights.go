package kits

import "dryfit/kits/format"

// Lights are lamps, their supply and their branches.
type Lights struct {
	Pos      Pos
	Supply   int     // a piece; -1 if it is not in the kit
	Volts    float64 // nominal
	Fresh    float64 // V
	Flat     float64 // V, at which the supply counts as empty
	Capacity float64 // mAh; 0 if not stated
	Gauge    *int    // AWG number of the wire; nil if not stated
	Cover    float64 // mm across one wire with its cover; 0 if not stated
	Branches []*Branch

	supply                       *Ref
	volts                        format.Number
	fresh, flat, capacity, cover *format.Number
}

// Branch is lamps in series with one resistor.
type Branch struct {
	Pos         Pos
	Lamps       []int   // pieces
	Forward     float64 // V, of each lamp
	Usual       string  // the colour whose usual forward voltage that is; empty if it was stated
	Current     float64 // mA, wanted
	Resistor    float64 // ohm; 0 if one is to be proposed
	ResistorPos Pos
	Wires       []*Wire
	Length      float64 // mm of its pair of wires; 0 if not stated
	LengthPos   Pos

	lamps, wires              []Ref
	colour                    string
	forward, resistor, length *format.Number
	current                   format.Number
}

// maxVolts limits lights to low voltage.
const maxVolts = 60

// Values below these are mistakes: A for mA, kilohm for ohm.
const (
	leastCurrent  = 0.05 // mA
	leastResistor = 1    // ohm
)

// colours lists the colours a lamp can have; forward is the usual voltage over each
// at about 20 mA, the middle of the usual range (common practice: red 1.8 to 2.2;
// true green, blue and white 2.8 to 3.4; ultraviolet 3.2 to 3.8).
var (
	colours = []string{"infrared", "red", "orange", "yellow", "green", "blue", "white", "warm-white", "ultraviolet"}
	forward = map[string]float64{"infrared": 1.2, "red": 2.0, "orange": 2.0, "yellow": 2.1, "green": 3.2, "blue": 3.2,
		"white": 3.2, "warm-white": 3.2, "ultraviolet": 3.5}
)

func (v *resolver) lights() {
	l := v.kit.Lights
	if l == nil {
		return
	}
	l.Supply = -1
	if l.supply != nil {
		l.Supply = v.onePiece("supply", *l.supply)
	}
	l.Volts = l.volts.Value
	l.Fresh, l.Flat, l.Capacity = or(l.fresh, l.Volts), or(l.flat, l.Volts), or(l.capacity, 0)
	l.Cover = v.mm(l.cover, 0)
	if l.Volts > 0 && (l.Fresh < l.Volts || l.Flat > l.Volts) {
		v.fault(l.Pos, "lights: fresh must be at least volts and flat at most; they are %g, %g and %g V", l.Fresh, l.Volts, l.Flat)
	}
	taken := map[int]*Branch{}
	for _, b := range l.Branches {
		v.branch(b, taken)
	}
}

func (v *resolver) branch(b *Branch, taken map[int]*Branch) {
	b.Current, b.Forward, b.Usual = b.current.Value, forward[b.colour], b.colour
	if b.forward != nil {
		b.Forward, b.Usual = b.forward.Value, ""
	}
	if b.resistor != nil {
		b.Resistor, b.ResistorPos = b.resistor.Value, b.resistor.Pos
	}
	if b.Current > 0 && b.Current < leastCurrent {
		v.fault(b.current.Pos, "current: %g mA is too little to light a lamp; the unit is mA", b.Current)
	}
	if b.resistor != nil && b.Resistor < leastResistor {
		v.fault(b.ResistorPos, "resistor: %g ohm is too small; the unit is ohm; leave it out to get a proposal", b.Resistor)
	}
	if b.length != nil {
		b.Length, b.LengthPos = v.mm(b.length, 0), b.length.Pos
	}
	for _, r := range b.lamps {
		for _, p := range v.pieces("lamps", r) {
			if other := taken[p]; other != nil {
				v.fault(r.Pos, "lamps: %s is already in the branch at %s; remove one", v.kit.Pieces[p].ID, other.Pos)
				continue
			}
			taken[p] = b
			b.Lamps = append(b.Lamps, p)
		}
	}
	for _, r := range b.wires {
		if w := v.wire("wires", r); w != nil {
			b.Wires = append(b.Wires, w)
		}
	}
}

func (v *resolver) wire(key string, r Ref) *Wire {
	if w := v.stepNames[r.Name].Wire; w != nil {
		return w
	}
	var known []string
	for _, w := range v.kit.Wires {
		known = append(known, w.ID)
	}
	v.fault(r.Pos, "%s: no wire is called %q%s", key, r.Name, v.Suggest(r.Name, known))
	return nil
}
