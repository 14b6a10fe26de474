package compare

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
)

func (d *describer) balance(b *kits.Balance) {
	it := item{kind: "balance", key: "along " + geom.AxisName(b.Along)}
	it.add("support", mm(b.Support))
	it.add("margin", mm(b.Margin))
	if b.Ballast != nil {
		it.add("ballast", d.newID.of(b.Ballast.ID))
		it.amount("pack", b.Pack, "g/cm3")
	}
	it.length("at", b.At)
	if it.add("inside", box(b.Inside)); b.Inside == nil {
		it.amount("room", b.Room, "cm3")
	}
	it.share("fill", b.Fill)
	if w := b.Weighed; w != nil {
		it.add("weighed", fmt.Sprintf("%g g at %s", w.Mass, mm(w.At)))
	}
	d.put(it)
}

func (d *describer) lights(l *kits.Lights) {
	it := item{kind: "lights", key: "supply"}
	if l.Supply >= 0 {
		it.add("supply", d.pieces("", l.Supply))
	}
	it.add("volts", fmt.Sprintf("%g V, %g V fresh, %g V flat", l.Volts, l.Fresh, l.Flat))
	it.amount("capacity", l.Capacity, "mAh")
	if l.Gauge != nil {
		it.add("gauge", strconv.Itoa(*l.Gauge))
	}
	if l.Cover > 0 {
		it.add("cover", mm(l.Cover))
	}
	d.put(it)
	each(l.Branches, d.branch)
}

func (d *describer) branch(b *kits.Branch) {
	it := item{kind: "lights", key: "branch of " + d.pieces("+", b.Lamps...)}
	it.add("colour", b.Usual)
	it.amount("forward", b.Forward, "V")
	it.amount("current", b.Current, "mA")
	it.amount("resistor", b.Resistor, "ohm")
	it.add("wires", strings.Join(ids(b.Wires, func(w *kits.Wire) string { return w.ID }), ", "))
	if b.Length > 0 {
		it.add("length", mm(b.Length))
	}
	d.put(it)
}

func (d *describer) magnets(m *kits.Magnets) {
	it := item{kind: "magnets", key: d.pieces("+", m.Pieces...)}
	it.add("north", english.Vector(m.North))
	it.add("mates", d.pieces(", ", m.Mates...))
	if p := m.Pocket; p != nil {
		it.add("pocket", mm(p.Diameter)+" across, "+mm(p.Depth)+" deep")
	}
	d.put(it)
}
