package report

import (
	"fmt"
	"math"

	"dryfit/kits/english"
	"dryfit/kits/mesh"
	"dryfit/plan/balance"
)

// notes say what the figures assume, and what is left out.
func (l balanced) notes() []string {
	list := append(l.masses(), l.solid()...)
	if l.Of.Weighed != nil {
		list = append(list, "The balance without ballast is as weighed, not as added up.")
	} else {
		list = append(list, l.leftOut()...)
	}
	return append(list, "Wires, glue, filler and paint are not counted, and prints differ. Before the last call close the model dry with bands, put it on its support with the ballast laid in, and trust that rather than the figures.")
}

// masses say how the masses of the pieces are known.
func (l balanced) masses() []string {
	mass, count := map[balance.How]float64{}, map[balance.How]int{}
	for _, w := range l.Weights {
		mass[w.How] += w.Mass
		count[w.How]++
	}
	var list []string
	for _, h := range []struct {
		how  balance.How
		text string
	}{
		{balance.Stated, "with a mass that the kit states"},
		{balance.Solid, "by the volume of the mesh and the density of the material, taken as solid: a resin part that is hollow must be hollow in its mesh"},
		{balance.Filled, fmt.Sprintf("of filament, by the mesh: solid within %g mm of the surface, and filled inside that as the kit says", mesh.Wall)},
		{balance.BySize, "by size alone, as solid boxes, so upper bounds"},
	} {
		if n := count[h.how]; n > 0 {
			list = append(list, fmt.Sprintf("%s, %.0f g: %s.", english.Count(n, "piece"), mass[h.how], h.text))
		}
	}
	return list
}

// solid says what changes if filament is printed solid, where that matters.
func (l balanced) solid() []string {
	filled := false
	for _, w := range l.Weights {
		filled = filled || w.How == balance.Filled
	}
	if l.Of.Ballast == nil || !filled || l.Solid <= 0 || math.Abs(l.Solid-l.Needed) < 1 {
		return nil
	}
	room := ""
	if b := l.Of; b.Room > 0 && l.Solid > b.Room*b.Pack {
		room = fmt.Sprintf(", and there is room for %.0f g", b.Room*b.Pack)
	}
	return []string{fmt.Sprintf("Printed solid throughout, %.0f g of ballast are needed instead of %.0f g%s.", math.Ceil(l.Solid), math.Ceil(l.Needed), room)}
}

// leftOut names the pieces with missing data.
func (l balanced) leftOut() []string {
	const most = 12
	var unknown, borrowed, nowhere []string
	for p, w := range l.Weights {
		id := l.Report.Kit.Pieces[p].ID
		if w.How == balance.Unknown {
			unknown = append(unknown, id)
		}
		switch w.Place {
		case balance.Borrowed:
			borrowed = append(borrowed, id)
		case balance.Nowhere:
			nowhere = append(nowhere, id)
		}
	}
	var list []string
	for _, x := range []struct {
		text string
		ids  []string
	}{
		{"Mass not known, so left out; state it with mass: on the part", unknown},
		{"Without a mesh, so assumed to be at the piece they are fitted to", borrowed},
		{"Position not known, so left out", nowhere},
	} {
		if len(x.ids) > 0 {
			list = append(list, x.text+": "+english.Few(x.ids, most)+".")
		}
	}
	return list
}
