package lights

import (
	"fmt"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
)

// Limits beyond which something is reported (common practice).
const (
	leastHeadroom = 0.5  // V over the resistor, below which a lamp goes dark or dim early
	goodHeadroom  = 1.0  // V
	mostCurrent   = 20   // mA through a small lamp
	dim           = 0.5  // of the current wanted
	over          = 1.05 // of the current wanted, and more than the tolerance of resistors
)

// Findings lists what a designer should know of the lights.
func (c *Circuit) Findings() []plan.Finding {
	var list []plan.Finding
	for _, b := range c.Branches {
		list = append(list, c.headroom(b)...)
		list = append(list, c.current(b)...)
		list = append(list, c.chained(b)...)
		list = append(list, c.short(b)...)
		list = append(list, c.unfed(b)...)
	}
	for _, h := range c.Holes {
		if h.Share > FullHole {
			list = append(list, c.finding(plan.Caution, []int{h.Piece}, h.Pos, "%d wires of %g mm take %.0f %% of a hole of %s mm in %s; more than half is hard to thread",
				h.Wires, c.Lights.Cover, 100*h.Share, english.Number(h.Across, 2), c.Kit.Pieces[h.Piece].ID).
				Suggest("make the hole wider, or give the lamps a common return wire"))
		}
	}
	return list
}

func (c *Circuit) finding(g plan.Grade, pieces []int, at kits.Pos, format string, args ...any) plan.Finding {
	return plan.NewFinding(plan.Lights, g, fmt.Sprintf(format, args...)).About(c.Kit.IDs(pieces)...).Placed(at)
}

// about is a finding on the lamps of a branch.
func (c *Circuit) about(b *Branch, g plan.Grade, format string, args ...any) plan.Finding {
	return c.finding(g, b.Of.Lamps, b.Of.Pos, "%s"+format, append([]any{english.And(c.Kit.IDs(b.Of.Lamps), 5)}, args...)...)
}

// headroom reports lamps that leave too little voltage for the resistor, which
// steadies the current: they go dark long before the supply is flat.
func (c *Circuit) headroom(b *Branch) []plan.Finding {
	l, n := c.Lights, len(b.Of.Lamps)
	var f plan.Finding
	switch {
	case b.Headroom >= goodHeadroom-1e-9:
		return nil
	case b.Lamps() >= l.Volts:
		f = c.about(b, plan.Fault, " cannot be lit: %s V are needed for the lamps alone, and the supply gives %g V", volts(b.Lamps()), l.Volts)
	case b.Headroom > leastHeadroom:
		f = c.about(b, plan.Caution, ": only %s V are left over the resistor once the supply is down to %g V; a volt or more keeps the light even", volts(b.Headroom), l.Flat)
	case b.Headroom > 0:
		f = c.about(b, plan.Fault, " go dim early: %s V are left over the resistor once the supply is down to %g V", volts(b.Headroom), l.Flat)
	default:
		f = c.about(b, plan.Fault, " go dark at %s V, long before the supply is down to %g V and empty", volts(b.Lamps()), l.Flat)
	}
	f = f.Since(fmt.Sprintf("%d x %g V over the lamps in series is %s V", n, b.Of.Forward, volts(b.Lamps())), b.Of.Pos).
		Since(fmt.Sprintf("the supply gives %g V, %g V when fresh and %g V when flat", l.Volts, l.Fresh, l.Flat), l.Pos)
	if n > 1 && l.Flat-b.Of.Forward >= goodHeadroom {
		if alone := Resistance(l.Volts, 1, b.Of.Forward, b.Of.Current); alone > 0 {
			f = f.Suggest(fmt.Sprintf("give each lamp a branch of its own, with %s each", Ohms(c.Series.Up(alone))))
		}
	}
	return []plan.Finding{f.Suggest(fmt.Sprintf("use a supply that still gives %s V when it is flat", volts(b.Lamps()+goodHeadroom)))}
}

// current reports stated resistors that let the wrong current through.
func (c *Circuit) current(b *Branch) []plan.Finding {
	var list []plan.Finding
	say := func(at kits.Pos, repair, format string, args ...any) {
		list = append(list, c.about(b, plan.Caution, ": "+format, args...).Placed(at).
			Since(fmt.Sprintf("%g mA are wanted", b.Of.Current), b.Of.Pos).Suggest(repair))
	}
	if b.Of.Resistor > 0 && b.Wanted > 0 {
		at, use := b.Of.ResistorPos, "use "+Ohms(c.Series.Up(b.Wanted))
		switch {
		case b.Nominal > over*b.Of.Current:
			say(at, use, "%s let %.2f mA through, more than is wanted", Ohms(b.Resistor), b.Nominal)
		case b.Nominal < dim*b.Of.Current:
			say(at, use, "%s let only %.2f mA through, less than half of what is wanted", Ohms(b.Resistor), b.Nominal)
		case !E24.Has(b.Of.Resistor):
			say(at, use, "%s is not a standard E12 or E24 value", Ohms(b.Resistor))
		}
	}
	if b.Fresh > mostCurrent {
		say(b.Of.Pos, fmt.Sprintf("ask for %d mA or less, unless the lamp's data sheet allows more", mostCurrent),
			"%.1f mA flow when the supply is fresh, more than small lamps take", b.Fresh)
	}
	if b.Resistor > 0 && b.Rating == 0 {
		say(b.Of.Pos, "use a lower voltage", "its resistor must dissipate %.1f W, more than any in a model should", b.Power/1000)
	}
	return list
}

// chained reports lamps in series in a closed space: one failure darkens all of
// them for good.
func (c *Circuit) chained(b *Branch) []plan.Finding {
	if len(b.Of.Lamps) < 2 {
		return nil
	}
	for _, p := range b.Of.Lamps {
		if around := c.Kit.Around(p); len(around) > 0 {
			f := c.about(b, plan.Caution, " are in series in a closed space: when one fails all go dark, and it is hard to get at").
				Since(fmt.Sprintf("%s is in %s", c.Kit.Pieces[p].ID, around[0].ID), around[0].Pos)
			if b.Of.Forward+leastHeadroom < c.Lights.Volts {
				f = f.Suggest("give each lamp a branch of its own")
			}
			return []plan.Finding{f}
		}
	}
	return nil
}

// short reports a stated pair of wires that is shorter than its route.
func (c *Circuit) short(b *Branch) []plan.Finding {
	if b.Of.Length == 0 || b.Of.Length >= b.Straight {
		return nil
	}
	return []plan.Finding{c.about(b, plan.Caution, ": its wires are %.0f mm long, and by the meshes the route is some %.0f mm without bends or spare ends", b.Of.Length, b.Straight).
		Placed(b.Of.LengthPos).
		Suggest(fmt.Sprintf("allow %.0f mm", roundUp(withSpare(b.Straight))))}
}
