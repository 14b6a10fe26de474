package compare

import (
	"fmt"
	"strconv"
	"time"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/format"
)

// material describes a material that the file states; the built-in ones are the same in
// both revisions.
func (d *describer) material(m *kits.Material) {
	if m.Pos.Line == 0 {
		return
	}
	it := item{kind: "material", key: m.ID}
	it.add("process", m.Process)
	it.amount("density", m.Density, "g/cm3")
	it.amount("package", m.Package, "g")
	if m.Price != nil {
		it.add("price", fmt.Sprintf("%.2f %s", m.Price.Amount, m.Price.Currency))
	}
	d.put(it)
}

// printer describes a printer with all that decides what it prints and for how long.
func (d *describer) printer(p *kits.Printer) {
	it := item{kind: "printer", key: p.ID}
	it.add("process", p.Process)
	it.add("volume", box(&kits.Size{XYZ: p.Volume}))
	it.add("layer", mm(p.Layer))
	it.add("margin", mm(p.Margin))
	it.add("edge", mm(p.Edge))
	it.add("border", mm(p.Border))
	it.add("count", strconv.Itoa(p.Count))
	it.span("change", p.Change)
	it.span("longest", p.Longest)
	if p.Hours != [2]time.Duration{} {
		it.add("hours", format.Time(p.Hours[0])+" to "+format.Time(p.Hours[1]))
	}
	it.span("exposure", p.Exposure)
	it.span("motion", p.Motion)
	if p.Process == kits.Resin {
		it.add("base-layers", strconv.Itoa(p.BaseLayers))
		it.span("base-exposure", p.BaseExposure)
	} else {
		it.add("line", mm(p.Line))
		it.amount("flow", p.Flow, "mm3/s")
		it.add("overhead", english.Number(p.Overhead[0], 2)+" to "+english.Number(p.Overhead[1], 2))
	}
	s := p.Support
	it.amount("support angle", s.Angle, "degrees")
	it.share("support fill", &s.Fill)
	it.add("support raise", mm(s.Raise))
	it.add("support bridge", mm(s.Bridge))
	d.put(it)
}
