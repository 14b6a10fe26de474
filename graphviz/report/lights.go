package report

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/lights"
)

// LightsData is the circuit of the lamps. Units are V, mA, ohm, mW, mm and mAh.
type LightsData struct {
	Head
	Volts    float64  `json:"volts"`                 // of the supply, nominal
	Fresh    float64  `json:"fresh"`                 // of a fresh supply
	Flat     float64  `json:"flat"`                  // of a flat supply
	Capacity float64  `json:"capacity,omitempty"`    // of the supply
	Series   string   `json:"series"`                // standard series of the proposed values
	Branches []Branch `json:"branches"`              // in file order
	Total    float64  `json:"total"`                 // current of all branches, nominal
	Hours    float64  `json:"hours,omitempty"`       // battery life at the nominal voltage
	Least    float64  `json:"hours_least,omitempty"` // if the supply stayed fresh
	Most     float64  `json:"hours_most,omitempty"`  // if its voltage falls evenly
	Holes    []Hole   `json:"holes"`                 // that wires run through
	Notes    []string `json:"notes"`                 // what must be known of all lamps
	Cautions []string `json:"cautions"`              // for the work with lamps
}

// Branch is lamps in series with their resistor.
type Branch struct {
	Lamps    []string `json:"lamps"`              // ids of the pieces
	Labels   []string `json:"labels"`             // the builder's names for them
	Forward  float64  `json:"forward"`            // voltage of one lamp
	Wanted   float64  `json:"wanted"`             // current
	Computed float64  `json:"computed"`           // resistance; not positive when nothing is left for a resistor
	Resistor float64  `json:"resistor"`           // 0 for none
	Proposed bool     `json:"proposed"`           // the kit states none
	Nominal  float64  `json:"current"`            // at the nominal voltage
	Fresh    float64  `json:"current_fresh"`      // with a fresh supply
	Flat     float64  `json:"current_flat"`       // with a flat supply
	Power    float64  `json:"power"`              // in the resistor with a fresh supply
	Rating   float64  `json:"rating"`             // of the resistor to buy; 0 if none is large enough
	Headroom float64  `json:"headroom"`           // voltage left for the resistor with a flat supply
	Straight float64  `json:"straight,omitempty"` // the way through the pieces
	Length   float64  `json:"length,omitempty"`   // of the pair of wires
	Stated   bool     `json:"length_stated"`      // by the kit
}

// Hole is a hole that wires run through.
type Hole struct {
	Piece string  `json:"piece"` // id of the piece with the hole
	Wires int     `json:"wires"` // that run through it
	Hole  float64 `json:"hole"`  // width
	Share float64 `json:"share"` // of the hole that they fill, 0 to 1
}

// lightNotes is what must be known of all lamps (common practice).
var lightNotes = []string{
	"Never connect a lamp without its resistor, not even to try it. Lamps work one way round only: the longer lead is the positive one, as a rule.",
	"Test every lamp on the bench, after threading, before each closing, after it, and at the end.",
	"Lamps that are hard to get at get a branch of their own: of lamps in series, one that fails darkens all.",
	"Sleeve every joint, and mark which wire is which.",
	"Forward voltages are usual ones where only a colour is given; the data sheet of the lamp comes first. Nothing here is for mains, nor for lithium cells, which need protection of their own.",
}

// Lights reports the circuit of the lamps, with resistors from a standard series.
func Lights(p *plan.Project, series lights.Series) *Report {
	l := circuit{lights.Of(p, series)}
	return subject(p, l.Findings(), l.blocks(), l.sheet(), func(h Head) any { return l.data(h) })
}

// circuit is the result to be worded.
type circuit struct{ *lights.Circuit }

func (l circuit) blocks() []document.Block {
	of := l.Lights
	var b blocks
	b.heading("%s: %s", l.Kit.Name, l.supply())
	b.add(l.table())
	if slices.ContainsFunc(l.Branches, func(b *lights.Branch) bool { return b.Proposed }) {
		b.text("* proposed: the next value of %s (IEC 60063:2015) above what was computed.", l.Series.Name)
	}
	b.text("In all %.1f mA at %g V, %.1f mA fresh, %.1f mA flat. A resistor rated %s is enough for each: twice what it turns into heat when fresh.",
		l.Nominal, of.Volts, l.Fresh, l.Flat, lights.Watts(l.rating()))
	if nominal, least, most := l.Hours(); nominal != 0 {
		b.text("%g mAh last about %.0f to %.0f hours, %.1f at the nominal voltage: the lower figure if the supply stayed fresh, the higher if its voltage falls evenly. Cold, old or cheap batteries last less.",
			of.Capacity, math.Floor(least), math.Ceil(most), nominal)
	}
	b.add(l.wiring()...)
	b.bullets(lightNotes)
	b.add(cautionBlocks(l.hazards(), false)...)
	return b
}

// hazards are those of wiring lamps.
func (l circuit) hazards() []plan.Hazard {
	return plan.Only(plan.Hazards(l.Kit), "button-cells", "batteries", "lithium", "soldering", "blades", "magnet-heat", "polarity")
}

func (l circuit) supply() string {
	of := l.Lights
	text := fmt.Sprintf("%g V", of.Volts)
	if of.Supply >= 0 {
		text += " from " + l.Kit.Label(of.Supply)
	}
	if of.Fresh > of.Volts || of.Flat < of.Volts {
		text += fmt.Sprintf("; %g V when fresh, %g V when flat", of.Fresh, of.Flat)
	}
	return text
}

func (l circuit) table() document.Table {
	var rows [][]string
	for _, b := range l.Branches {
		r := "none"
		if b.Resistor > 0 {
			r = lights.Ohms(b.Resistor)
		}
		if b.Resistor > 0 && b.Proposed {
			r += " *"
		}
		rows = append(rows, []string{strings.Join(l.Kit.IDs(b.Of.Lamps), " + "), fmt.Sprintf("%g V", b.Of.Forward), fmt.Sprintf("%g mA", b.Of.Current), ohms(b.Wanted), r,
			fmt.Sprintf("%.2f", b.Nominal), fmt.Sprintf("%.2f", b.Fresh), fmt.Sprintf("%.2f", b.Flat), lights.Watts(b.Rating),
			fmt.Sprintf("%.1f V", b.Headroom), pairLength(b)})
	}
	head := []string{"lamps", "Vf", "wanted", "computed", "resistor", fmt.Sprintf("mA at %g V", l.Lights.Volts), "fresh", "flat", "rating", "left flat", "pair"}
	return document.NewTable(head, rows...)
}

// rating is the greatest rating that any resistor needs; 0 if one needs more than
// there is.
func (l circuit) rating() float64 {
	most := 0.0
	for _, b := range l.Branches {
		if b.Resistor > 0 && b.Rating == 0 {
			return 0
		}
		most = max(most, b.Rating)
	}
	return most
}

func (l circuit) wiring() []document.Block {
	var b blocks
	if length, unknown := l.Pairs(); length > 0 {
		text := fmt.Sprintf("Wire: %s of pairs, so %s of single wire, without what feeds them", metres(length), metres(2*length))
		if unknown > 0 {
			text += fmt.Sprintf("; %s of unknown length", english.Count(unknown, "more pair"))
		}
		if slices.ContainsFunc(l.Branches, func(b *lights.Branch) bool { return b.Of.Length == 0 && b.Length > 0 }) {
			text += ". Lengths marked ~ are the straight way through the pieces by their meshes, a fifth for bends, and 60 mm at each end"
		}
		b.text("%s.", text)
	}
	if g := l.Lights.Gauge; g != nil {
		text := fmt.Sprintf("Solid wire of AWG %d is %.3f mm bare, %.2f ohm a metre", *g, lights.Diameter(*g), lights.OhmPerMetre(*g))
		if l.Lights.Cover > 0 {
			text += fmt.Sprintf("; %g mm over the cover", l.Lights.Cover)
		}
		b.text("%s.", text)
	}
	for _, h := range l.Holes {
		if h.Wires > 2 {
			b.text("%s: %s in a hole of %g mm or more, at most %.0f %% full.", l.Kit.Pieces[h.Piece].ID, english.Count(h.Wires, "wire"), h.Across, 100*h.Share)
		}
	}
	return b
}

func ohms(r float64) string {
	if r <= 0 {
		return "none"
	}
	return lights.Ohms(r)
}

func pairLength(b *lights.Branch) string {
	switch {
	case b.Of.Length > 0:
		return fmt.Sprintf("%.0f mm", b.Length)
	case b.Length > 0:
		return fmt.Sprintf("~%.0f mm", math.Ceil(b.Length/10)*10)
	}
	return "?"
}

func metres(mm float64) string { return fmt.Sprintf("%.1f m", math.Ceil(mm/100)/10) }

func (l circuit) branch(b *lights.Branch) Branch {
	out := Branch{Lamps: l.Kit.IDs(b.Of.Lamps), Labels: []string{}, Forward: b.Of.Forward, Wanted: b.Of.Current, Computed: hundredth(b.Wanted),
		Resistor: b.Resistor, Proposed: b.Proposed, Nominal: hundredth(b.Nominal), Fresh: hundredth(b.Fresh), Flat: hundredth(b.Flat),
		Power: hundredth(b.Power), Rating: b.Rating, Headroom: hundredth(b.Headroom), Straight: hundredth(b.Straight),
		Length: hundredth(b.Length), Stated: b.Of.Length > 0}
	for _, p := range b.Of.Lamps {
		out.Labels = append(out.Labels, l.Kit.Label(p))
	}
	return out
}

func (l circuit) data(h Head) LightsData {
	nominal, least, most := l.Hours()
	out := LightsData{Head: h, Volts: l.Lights.Volts, Fresh: l.Lights.Fresh, Flat: l.Lights.Flat, Capacity: l.Lights.Capacity,
		Series: l.Series.Name, Total: hundredth(l.Nominal), Hours: hundredth(nominal), Least: hundredth(least), Most: hundredth(most),
		Branches: []Branch{}, Holes: []Hole{}, Notes: lightNotes, Cautions: cautions(l.hazards())}
	for _, b := range l.Branches {
		out.Branches = append(out.Branches, l.branch(b))
	}
	for _, h := range l.Holes {
		out.Holes = append(out.Holes, Hole{l.Kit.Pieces[h.Piece].ID, h.Wires, h.Across, hundredth(h.Share)})
	}
	return out
}

func (l circuit) sheet() [][]string {
	rows := [][]string{{"lamps", "label", "forward V", "wanted mA", "computed ohm", "resistor ohm", "proposed", "mA", "mA fresh", "mA flat", "mW fresh", "rating mW", "left when flat V", "pair mm", "pair stated"}}
	num := func(v float64) string { return fmt.Sprintf("%g", v) }
	for _, b := range l.Branches {
		j := l.branch(b)
		rows = append(rows, []string{strings.Join(j.Lamps, " "), strings.Join(j.Labels, "; "), num(j.Forward), num(j.Wanted), num(j.Computed), num(j.Resistor), yesNo(j.Proposed),
			num(j.Nominal), num(j.Fresh), num(j.Flat), num(j.Power), num(j.Rating), num(j.Headroom), num(j.Length), yesNo(j.Stated)})
	}
	return rows
}
