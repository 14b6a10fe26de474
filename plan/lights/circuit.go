// Package lights computes the resistors, currents, battery life and wires of the
// lamps of a kit. It models LEDs of constant forward voltage in branches with one
// resistor each, on a low-voltage DC supply; no drivers, dimmers or mains.
//
// Voltages are V, currents mA, resistances ohm, powers mW, lengths mm, unless a name
// says otherwise.
package lights

import (
	"dryfit/kits"
	"dryfit/plan"
)

// Circuit is what follows from the lights of a kit.
type Circuit struct {
	Kit      *kits.Kit
	Lights   *kits.Lights
	Series   Series
	Branches []*Branch
	Nominal  float64 // mA in all, at the nominal voltage
	Fresh    float64 // at that of a fresh supply
	Flat     float64 // at that of a flat one
	Holes    []Hole
}

// Branch is what follows from one branch.
type Branch struct {
	Of       *kits.Branch
	Wanted   float64 // ohm by the formula; not positive if the lamps take the whole voltage
	Resistor float64 // ohm, as stated or as proposed; 0 if there can be none
	Proposed bool
	Nominal  float64 // mA at each voltage
	Fresh    float64
	Flat     float64
	Power    float64 // mW in the resistor when fresh
	Rating   float64 // mW, of the resistor to buy; 0 if none is large enough
	Headroom float64 // V left over the resistor when flat
	Straight float64 // mm, the shortest path along the pieces that it runs through; 0 if not known
	Length   float64 // mm of its pair, as stated or computed; 0 if not known
}

// Lamps is the voltage that the lamps of a branch take together.
func (b *Branch) Lamps() float64 { return float64(len(b.Of.Lamps)) * b.Of.Forward }

// Hours is how long the supply lasts: at the nominal voltage; at the least, if it
// stayed fresh; and at the most, at the mean of the fresh and flat currents, if
// its voltage fell evenly. All 0 if the capacity is not stated or nothing flows.
func (c *Circuit) Hours() (nominal, least, most float64) {
	if c.Lights.Capacity == 0 || c.Nominal == 0 || c.Fresh == 0 {
		return 0, 0, 0
	}
	capacity := c.Lights.Capacity
	return capacity / c.Nominal, capacity / c.Fresh, capacity / ((c.Fresh + c.Flat) / 2)
}

// Pairs is the length of all pairs of wires, in mm, and how many are not known.
func (c *Circuit) Pairs() (length float64, unknown int) {
	for _, b := range c.Branches {
		if length += b.Length; b.Length == 0 {
			unknown++
		}
	}
	return length, unknown
}

// Of computes the lights of a kit, which must have some.
func Of(p *plan.Project, s Series) *Circuit {
	c := &Circuit{Kit: p.Kit, Lights: p.Kit.Lights, Series: s, Holes: holes(p.Kit)}
	for _, b := range c.Lights.Branches {
		out := c.branch(b)
		out.Straight = straight(p, b)
		switch {
		case b.Length > 0:
			out.Length = b.Length
		case out.Straight > 0:
			out.Length = withSpare(out.Straight)
		}
		c.Branches = append(c.Branches, out)
		c.Nominal += out.Nominal
		c.Fresh += out.Fresh
		c.Flat += out.Flat
	}
	return c
}

// leastOhm is the smallest resistor that is proposed.
const leastOhm = 1

func (c *Circuit) branch(b *kits.Branch) *Branch {
	l, n := c.Lights, len(b.Lamps)
	out := &Branch{Of: b, Resistor: b.Resistor, Wanted: Resistance(l.Volts, n, b.Forward, b.Current)}
	out.Headroom = l.Flat - out.Lamps()
	if out.Resistor == 0 && out.Wanted > 0 {
		out.Resistor, out.Proposed = c.Series.Up(max(out.Wanted, leastOhm)), true
	}
	if out.Resistor == 0 {
		return out
	}
	out.Nominal = Current(l.Volts, n, b.Forward, out.Resistor)
	out.Fresh = Current(l.Fresh, n, b.Forward, out.Resistor)
	out.Flat = Current(l.Flat, n, b.Forward, out.Resistor)
	out.Power = out.Fresh * max(0, l.Fresh-out.Lamps())
	out.Rating = Rating(out.Power)
	return out
}
