package kits

import (
	"strconv"
	"strings"
	"time"

	"dryfit/kits/format"
	"dryfit/kits/geom"
)

// Processes.
const (
	Resin    = "resin"    // cured layer by layer by a screen
	Filament = "filament" // extruded as a molten strand
)

// Printer is a printer at hand, or several of a kind. Lengths are mm. Keys of the
// other process are zero.
type Printer struct {
	ID      string
	Pos     Pos
	Process string   // Resin or Filament
	Volume  geom.Vec // usable width, depth and height
	Layer   float64
	Margin  float64 // kept free between pieces on the bed
	Edge    float64 // kept free along the sides of the bed
	Border  float64 // width of a raft or brim around each piece
	Count   int     // how many of them
	Change  time.Duration
	Longest time.Duration // that a plate may take; 0 for any time
	// Hours are when plates can be changed, from midnight; both 0 for round the clock.
	Hours [2]time.Duration

	Exposure, Motion time.Duration // of a layer; Resin
	BaseLayers       int           // exposed for longer, BaseExposure each
	BaseExposure     time.Duration

	Line     float64    // width of a printed line; Filament
	Flow     float64    // mm3 a second
	Overhead [2]float64 // shortest and longest printing time, as multiples of the time that the flow alone takes

	Support Support

	volume               *Size
	layer, margin, line  *format.Number
	edge, border         *format.Number
	longest              *time.Duration
	hours                []time.Duration
	exposure, motion     *time.Duration
	baseExposure, change *time.Duration
	baseLayers           *int
	flow                 *format.Number
	overhead             []format.Number
	support              *Support
}

// Support is what needs support on a printer, and what supports take.
type Support struct {
	Pos    Pos
	Angle  float64 // degrees from the bed; what leans out at less needs support
	Fill   float64 // share of the room under it that supports fill
	Raise  float64 // mm, of a part above the bed; Resin
	Bridge float64 // mm, the longest gap spanned without support; Filament

	angle, raise, bridge *format.Number
	fill                 *float64
}

// Material is what parts are made of.
type Material struct {
	ID      string
	Pos     Pos     // zero for one that is built in
	Process string  // Resin, Filament, or empty for what is not printed
	Density float64 // g/cm3
	Package float64 // g in a bottle or on a spool; 0 if not stated
	Price   *Price  // of a package; nil if not stated

	density format.Number
	pack    *format.Number
}

// Price is an amount of money.
type Price struct {
	Amount   float64
	Currency string // three letters
}

// priceOf reads a price that matches its pattern.
func priceOf(s string) Price {
	amount, currency, _ := strings.Cut(s, " ")
	v, _ := strconv.ParseFloat(amount, 64) // digits by the pattern
	return Price{v, currency}
}

// materials lists the built-in materials. Densities are common practice; resin is
// the middle of the 1.1 to 1.2 g/cm3 of cured resins. A kit can override them
// with its supplier's values.
func materials() []*Material {
	return []*Material{
		{ID: "resin", Process: Resin, Density: 1.15},
		{ID: "pla", Process: Filament, Density: 1.24},
		{ID: "petg", Process: Filament, Density: 1.27},
		{ID: "abs", Process: Filament, Density: 1.04},
	}
}

// plainMaterial is what printed parts are made of by default.
var plainMaterial = map[string]string{Resin: "resin", Filament: "pla"}

// usual is a printer with default values (common practice, mm): layers of 0.05
// for resin and 0.2 for filament; monochrome screens expose a layer for 0.5 to 5
// s, and the first four to six layers 8 to 12 times longer, up to 30 s; filament
// flows at 6 to 12 mm3/s, and a print takes 1.3 to 1.6 times as long as the flow
// alone. Motion, margins and plate changes are our estimates. What leans out at
// less than 45 degrees needs support, supports of filament fill 10 to 20 % of
// their room, those of resin are thin pillars 5 mm high or more, and filament
// spans some 10 mm (common practice); that pillars fill 5 % is our estimate.
func usual(process string) Printer {
	const s, m = time.Second, time.Minute
	if process == Resin {
		return Printer{Layer: 0.05, Margin: 2, Edge: 2, Change: 15 * m,
			Exposure: 3 * s, Motion: 6 * s, BaseLayers: 5, BaseExposure: 30 * s,
			Support: Support{Angle: 45, Fill: 0.05, Raise: 5}}
	}
	return Printer{Layer: 0.2, Margin: 5, Edge: 3, Change: 15 * m,
		Line: 0.4, Flow: 8, Overhead: [2]float64{1.3, 1.6},
		Support: Support{Angle: 45, Fill: 0.15, Bridge: 10}}
}

// Layers beyond these are mistakes, such as micrometres written as mm.
const (
	minLayer = 0.001
	maxLayer = 2
)

func (v *resolver) printers() {
	mm := v.kit.Unit.MM
	for _, p := range v.kit.Printers {
		if p.Process == "" || p.volume == nil {
			continue // already reported
		}
		d := usual(p.Process)
		p.Volume = p.volume.XYZ.Times(mm)
		p.Layer, p.Margin = v.mm(p.layer, d.Layer), v.mm(p.margin, d.Margin)
		p.Edge, p.Border = v.mm(p.edge, d.Edge), v.mm(p.border, 0)
		p.Longest = given(p.longest, 0)
		v.hours(p)
		p.Count = max(p.Count, 1)
		p.Change = given(p.change, d.Change)
		p.Support = d.Support
		if s := p.support; s != nil {
			p.Support = Support{Pos: s.Pos, Angle: or(s.angle, d.Support.Angle), Fill: given(s.fill, d.Support.Fill),
				Raise: v.mm(s.raise, d.Support.Raise), Bridge: v.mm(s.bridge, d.Support.Bridge)}
		}
		v.foreign(p)
		if p.Process == Resin {
			p.Exposure, p.Motion = given(p.exposure, d.Exposure), given(p.motion, d.Motion)
			p.BaseLayers, p.BaseExposure = given(p.baseLayers, d.BaseLayers), given(p.baseExposure, d.BaseExposure)
		} else {
			p.Line, p.Overhead, p.Flow = v.mm(p.line, d.Line), d.Overhead, or(p.flow, d.Flow)
			if len(p.overhead) == 2 {
				p.Overhead = [2]float64{p.overhead[0].Value, p.overhead[1].Value}
			}
			if o := p.Overhead; o[0] < 1 || o[1] < o[0] {
				v.fault(p.overhead[0].Pos, "printers: %s: overhead: must be two numbers of at least 1, the lower first, such as [1.3, 1.6]", p.ID)
			}
		}
		if p.Layer < minLayer || p.Layer > min(maxLayer, p.Volume[2]) {
			at := p.Pos
			if p.layer != nil {
				at = p.layer.Pos
			}
			v.fault(at, "printers: %s: a layer of %g mm is out of range; write 0.05 for 50 micrometres", p.ID, p.Layer)
		}
	}
}

// hours reads when plates can be changed.
func (v *resolver) hours(p *Printer) {
	if len(p.hours) != 2 {
		return // not given, or reported already
	}
	p.Hours = [2]time.Duration(p.hours)
	if h := p.Hours; h[0] >= h[1] || h[1] > 24*time.Hour {
		v.fault(p.Pos, "printers: %s: hours: must be from and until when plates can be changed, from midnight, such as [7h, 22h]", p.ID)
	}
}

// foreign reports keys that do not apply to the printer's process.
func (v *resolver) foreign(p *Printer) {
	keys := []struct {
		name, process string
		given         bool
	}{
		{"exposure", Resin, p.exposure != nil}, {"motion", Resin, p.motion != nil},
		{"base-layers", Resin, p.baseLayers != nil}, {"base-exposure", Resin, p.baseExposure != nil},
		{"support: raise", Resin, p.support != nil && p.support.raise != nil}, {"support: bridge", Filament, p.support != nil && p.support.bridge != nil},
		{"line", Filament, p.line != nil}, {"flow", Filament, p.flow != nil}, {"overhead", Filament, p.overhead != nil},
	}
	for _, k := range keys {
		if k.given && k.process != p.Process {
			v.fault(p.Pos, "printers: %s: %s is for process: %s; this one is %s", p.ID, k.name, k.process, p.Process)
		}
	}
}

// mm is a given length in mm, or the default.
func (v *resolver) mm(n *format.Number, usual float64) float64 {
	if n == nil {
		return usual
	}
	return n.Value * v.kit.Unit.MM
}

// or is a given number, or the default.
func or(n *format.Number, usual float64) float64 {
	if n == nil {
		return usual
	}
	return n.Value
}

// given is a given value, or the default.
func given[T any](v *T, usual T) T {
	if v == nil {
		return usual
	}
	return *v
}

// materials adds the built-in materials, and finds what each part is made of.
func (v *resolver) materials() {
	k := v.kit
	known := map[string]*Material{}
	own := k.Materials
	k.Materials = nil
	for _, m := range own {
		known[m.ID], m.Density, m.Package = m, m.density.Value, or(m.pack, 0)
	}
	for _, m := range materials() {
		if o := known[m.ID]; o == nil {
			known[m.ID] = m
			k.Materials = append(k.Materials, m)
		} else if o.Process == "" {
			o.Process = m.Process
		}
	}
	k.Materials = append(k.Materials, own...)
	var names []string
	for _, m := range k.Materials {
		names = append(names, m.ID)
	}
	for _, p := range k.Parts {
		if p.material == nil {
			p.Material = known[plainMaterial[p.Printed]]
			continue
		}
		m := known[p.material.Name]
		if m == nil {
			v.fault(p.material.Pos, "material: no material is called %q%s; known are %s; add others under materials", p.material.Name, v.Suggest(p.material.Name, names), strings.Join(names, ", "))
			continue
		}
		switch {
		case p.ToPrint() && m.Process == "":
			v.fault(p.material.Pos, "material: %s is printed, but %s has no process; mark the part as bought or made, or give the material a process", p.ID, m.ID)
		case p.ToPrint() && p.Printed != "" && m.Process != p.Printed:
			v.fault(p.material.Pos, "material: %s is printed with %s, but %s is for %s; correct one of them", p.ID, p.Printed, m.ID, m.Process)
		}
		p.Material = m
		if p.ToPrint() {
			p.Printed = m.Process
		}
	}
}

// ToPrint reports whether a part comes from a printer: it is neither bought nor made.
func (p *Part) ToPrint() bool { return !p.Bought && !p.Made }

// PlainMaterial is the id of the default material of a process.
func PlainMaterial(process string) string { return plainMaterial[process] }
