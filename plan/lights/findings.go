package lights

import (
	"fmt"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
)

// Limits of what is said (common practice).
const (
	leastHeadroom = 0.5  // V over the resistor, below which a lamp goes dark or dim early
	goodHeadroom  = 1.0  // V
	mostCurrent   = 20   // mA through a small lamp
	dim           = 0.5  // of the current wanted
	over          = 1.05 // of the current wanted, and more than resistors are off
	fullHole      = 0.5  // of a hole that wires should take at most
)

// Findings lists what a designer should know of the lights.
func (c *Circuit) Findings() []plan.Finding {
	var list []plan.Finding
	for _, b := range c.Branches {
		list = append(list, c.headroom(b)...)
		list = append(list, c.current(b)...)
		list = append(list, c.chained(b)...)
		list = append(list, c.short(b)...)
	}
	for _, h := range c.Holes {
		if h.Share > fullHole {
			f := c.finding(plan.Caution, []int{h.Piece}, h.Pos, fmt.Sprintf("%d wires of %g mm take %.0f %% of a hole of %g mm in %s; more than half is hard to thread",
				h.Wires, c.Lights.Cover, 100*h.Share, h.Across, c.Kit.Pieces[h.Piece].ID))
			f.Repairs = []plan.Repair{{Text: "make the hole wider, or give the lamps one return wire together"}}
			list = append(list, f)
		}
	}
	return list
}

func (c *Circuit) finding(g plan.Grade, pieces []int, at kits.Pos, text string) plan.Finding {
	f := plan.Finding{Kind: plan.Lights, Grade: g, Text: text, Because: []plan.Reason{}, Repairs: []plan.Repair{}}
	for _, p := range pieces {
		f.Pieces = append(f.Pieces, c.Kit.Pieces[p].ID)
	}
	f.Piece = f.Pieces[0]
	if len(f.Pieces) == 1 {
		f.Pieces = nil
	}
	return f.Placed(at)
}

// names lists the lamps of a branch for a sentence.
func (c *Circuit) names(b *Branch) string {
	const most = 4
	var ids []string
	for _, p := range b.Of.Lamps[:min(len(b.Of.Lamps), most)] {
		ids = append(ids, c.Kit.Pieces[p].ID)
	}
	text := strings.Join(ids, ", ")
	if n := len(b.Of.Lamps) - most; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return text
}

// headroom: what the lamps leave for the resistor steadies the current; with little
// left they go dark long before the supply is flat.
func (c *Circuit) headroom(b *Branch) []plan.Finding {
	l, n := c.Lights, len(b.Of.Lamps)
	if b.Headroom >= goodHeadroom-1e-9 {
		return nil
	}
	grade := plan.Caution
	text := fmt.Sprintf("%s: only %s V are left over the resistor once the supply is down to %g V; a volt or more keeps the light even", c.names(b), volts(b.Headroom), l.Flat)
	switch {
	case b.Lamps() >= l.Volts:
		grade = plan.Fault
		text = fmt.Sprintf("%s cannot be lit: %s V are needed for the lamps alone, and the supply gives %g V", c.names(b), volts(b.Lamps()), l.Volts)
	case b.Headroom <= leastHeadroom:
		grade = plan.Fault
		text = fmt.Sprintf("%s go dark at %s V, long before the supply is down to %g V and empty", c.names(b), volts(b.Lamps()), l.Flat)
		if b.Headroom > 0 {
			text = fmt.Sprintf("%s go dim early: %s V are left over the resistor once the supply is down to %g V", c.names(b), volts(b.Headroom), l.Flat)
		}
	}
	f := c.finding(grade, b.Of.Lamps, b.Of.Pos, text)
	f.Because = []plan.Reason{
		{Text: fmt.Sprintf("%d x %g V over the lamps in series is %s V", n, b.Of.Forward, volts(b.Lamps())), At: b.Of.Pos.String()},
		{Text: fmt.Sprintf("the supply gives %g V, %g V when fresh and %g V when flat", l.Volts, l.Fresh, l.Flat), At: l.Pos.String()},
	}
	if n > 1 && l.Flat-b.Of.Forward >= goodHeadroom {
		if alone := Resistance(l.Volts, 1, b.Of.Forward, b.Of.Current); alone > 0 {
			f.Repairs = append(f.Repairs, plan.Repair{Text: fmt.Sprintf("give each lamp a branch of its own, with %s each", Ohms(c.Series.Up(alone)))})
		}
	}
	f.Repairs = append(f.Repairs, plan.Repair{Text: fmt.Sprintf("take a supply that still gives %s V when it is flat", volts(b.Lamps()+goodHeadroom))})
	return []plan.Finding{f}
}

// current: what a stated resistor lets through.
func (c *Circuit) current(b *Branch) []plan.Finding {
	var list []plan.Finding
	say := func(at kits.Pos, mend, format string, args ...any) {
		f := c.finding(plan.Caution, b.Of.Lamps, at, c.names(b)+": "+fmt.Sprintf(format, args...))
		f.Because = []plan.Reason{{Text: fmt.Sprintf("%g mA are wanted", b.Of.Current), At: b.Of.Pos.String()}}
		f.Repairs = []plan.Repair{{Text: mend}}
		list = append(list, f)
	}
	if b.Of.Resistor > 0 && b.Wanted > 0 {
		at, use := b.Of.ResistorPos, "use "+Ohms(c.Series.Up(b.Wanted))
		switch {
		case b.Nominal > over*b.Of.Current:
			say(at, use, "%s let %.2f mA through, more than is wanted", Ohms(b.Resistor), b.Nominal)
		case b.Nominal < dim*b.Of.Current:
			say(at, use, "%s let only %.2f mA through, less than half of what is wanted", Ohms(b.Resistor), b.Nominal)
		case !E24.Has(b.Of.Resistor):
			say(at, use, "%s are no standard value, neither of E12 nor of E24", Ohms(b.Resistor))
		}
	}
	if b.Fresh > mostCurrent {
		say(b.Of.Pos, fmt.Sprintf("ask for %d mA or less, unless the lamp's data sheet allows more", mostCurrent),
			"%.1f mA flow when the supply is fresh, more than small lamps take", b.Fresh)
	}
	if b.Resistor > 0 && b.Rating == 0 {
		say(b.Of.Pos, "take a lower voltage", "its resistor must get rid of %.1f W, more than any in a model should", b.Power/1000)
	}
	return list
}

// chained: of lamps in series in a closed space, one that fails darkens all for good.
func (c *Circuit) chained(b *Branch) []plan.Finding {
	if len(b.Of.Lamps) < 2 {
		return nil
	}
	for _, p := range b.Of.Lamps {
		if around := c.Kit.Around(p); len(around) > 0 {
			f := c.finding(plan.Caution, b.Of.Lamps, b.Of.Pos, fmt.Sprintf("%s hang in series in a closed space: when one fails all are dark, and it is hard to get at", c.names(b)))
			f.Because = []plan.Reason{{Text: fmt.Sprintf("%s is in %s", c.Kit.Pieces[p].ID, around[0].ID), At: around[0].Pos.String()}}
			if b.Of.Forward+leastHeadroom < c.Lights.Volts {
				f.Repairs = []plan.Repair{{Text: "give each lamp a branch of its own"}}
			}
			return []plan.Finding{f}
		}
	}
	return nil
}

// short: a stated pair of wires cannot be shorter than its way.
func (c *Circuit) short(b *Branch) []plan.Finding {
	if b.Of.Length == 0 || b.Of.Length >= b.Straight {
		return nil
	}
	f := c.finding(plan.Caution, b.Of.Lamps, b.Of.LengthPos, fmt.Sprintf("%s: its wires are %.0f mm long, and by the meshes the way is some %.0f mm without a bend or a spare end", c.names(b), b.Of.Length, b.Straight))
	f.Repairs = []plan.Repair{{Text: fmt.Sprintf("allow %.0f mm", roundUp(b.Straight*slackRun+2*spareEnd))}}
	return []plan.Finding{f}
}
