package compare

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/kits"
)

// weight adds what a part weighs.
func (it *item) weight(p *kits.Part) {
	if p.Mass > 0 {
		it.add("mass", fmt.Sprintf("%g g", p.Mass))
	}
	if p.Fill != nil {
		it.add("fill", percent(*p.Fill))
	}
}

func percent(share float64) string { return fmt.Sprintf("%g%%", 100*share) }

func (d *describer) balance(b *kits.Balance) {
	it := item{kind: "balance", key: "along " + "xyz"[b.Along:b.Along+1]}
	it.add("support", mm(b.Support))
	it.add("margin", mm(b.Margin))
	if b.Ballast != nil {
		it.add("ballast", d.id(b.Ballast))
		it.add("pack", fmt.Sprintf("%g g/cm3", b.Pack))
	}
	if b.At != nil {
		it.add("at", mm(*b.At))
	}
	if it.add("inside", box(b.Inside)); b.Inside == nil && b.Room > 0 {
		it.add("room", fmt.Sprintf("%g cm3", b.Room))
	}
	if b.Fill != nil {
		it.add("fill", percent(*b.Fill))
	}
	if w := b.Weighed; w != nil {
		it.add("weighed", fmt.Sprintf("%g g at %s", w.Mass, mm(w.At)))
	}
	d.put(it)
}

func (d *describer) lights(l *kits.Lights) {
	it := item{kind: "lights", key: "supply"}
	if l.Supply >= 0 {
		it.add("supply", d.pieces([]int{l.Supply}, ""))
	}
	it.add("volts", fmt.Sprintf("%g V, %g V fresh, %g V flat", l.Volts, l.Fresh, l.Flat))
	if l.Capacity > 0 {
		it.add("capacity", fmt.Sprintf("%g mAh", l.Capacity))
	}
	if l.Gauge != nil {
		it.add("gauge", strconv.Itoa(*l.Gauge))
	}
	if l.Cover > 0 {
		it.add("cover", mm(l.Cover))
	}
	d.put(it)
	for _, b := range l.Branches {
		d.branch(b)
	}
}

func (d *describer) branch(b *kits.Branch) {
	it := item{kind: "lights", key: "branch of " + d.pieces(b.Lamps, "+")}
	it.add("colour", b.Usual)
	it.add("forward", fmt.Sprintf("%g V", b.Forward))
	it.add("current", fmt.Sprintf("%g mA", b.Current))
	if b.Resistor > 0 {
		it.add("resistor", fmt.Sprintf("%g ohm", b.Resistor))
	}
	var wires []string
	for _, w := range b.Wires {
		wires = append(wires, w.ID)
	}
	it.add("wires", strings.Join(wires, ", "))
	if b.Length > 0 {
		it.add("length", mm(b.Length))
	}
	d.put(it)
}

func (d *describer) magnets(m *kits.Magnets) {
	it := item{kind: "magnets", key: d.pieces(m.Pieces, "+")}
	it.add("north", fmt.Sprintf("[%g, %g, %g]", m.North[0], m.North[1], m.North[2]))
	it.add("mates", d.pieces(m.Mates, ", "))
	if p := m.Pocket; p != nil {
		it.add("pocket", mm(p.Diameter)+" across, "+mm(p.Depth)+" deep")
	}
	d.put(it)
}
