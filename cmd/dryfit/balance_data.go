package main

import (
	"fmt"
	"math"
	"strings"

	"dryfit/kits/mesh"
	"dryfit/plan/balance"
)

type pointJSON struct {
	Mass float64 `json:"mass"`
	At   float64 `json:"at"`
}

type ballastJSON struct {
	Part   string  `json:"part"`
	At     float64 `json:"at"`
	Needed float64 `json:"needed"`
	Solid  float64 `json:"needed_if_solid"`
	Stated float64 `json:"stated"`
	Volume float64 `json:"volume"`
	Room   float64 `json:"room,omitempty"`
	In     int     `json:"fitted_at_step,omitempty"` // numbers of the proven sequence
	Before int     `json:"before_step,omitempty"`
}

type stageJSON struct {
	Step   int    `json:"step"`
	Text   string `json:"text"`
	Pieces int    `json:"pieces"`
	pointJSON
}

type weightJSON struct {
	Piece  string        `json:"piece"`
	Mass   float64       `json:"mass"`
	How    balance.How   `json:"how"`
	Fill   float64       `json:"fill,omitempty"`
	Centre *[3]float64   `json:"centre,omitempty"`
	Place  balance.Place `json:"place"`
}

func pointOf(p balance.Point) pointJSON { return pointJSON{hundredth(p.Mass), hundredth(p.At)} }

func (l *balanceList) data() any {
	out := struct {
		headed
		Along    string       `json:"along"`
		Support  float64      `json:"support"`
		Target   float64      `json:"target"`
		Known    bool         `json:"known"`
		Without  pointJSON    `json:"without_ballast"`
		Finished pointJSON    `json:"finished"`
		Ballast  *ballastJSON `json:"ballast,omitempty"`
		Proven   bool         `json:"proven"`
		Stages   []stageJSON  `json:"stages"`
		Pieces   []weightJSON `json:"pieces"`
		Notes    []string     `json:"notes"`
	}{head(l.kit(), l.found), l.Axis(), l.Of.Support, l.Target, l.Known, pointOf(l.Empty), pointOf(l.Finished),
		l.ballastData(), l.Report.Sequence != nil, []stageJSON{}, []weightJSON{}, l.notes()}
	for _, s := range l.Stages {
		out.Stages = append(out.Stages, stageJSON{l.Sequence.Place[s.Step], l.Report.Constraints.Does(s.Step), s.Pieces, pointOf(s.Point)})
	}
	for p, w := range l.Weights {
		j := weightJSON{Piece: l.kit().Pieces[p].ID, Mass: hundredth(w.Mass), How: w.How, Fill: w.Fill, Place: w.Place}
		if w.Place != balance.Nowhere {
			j.Centre = &[3]float64{hundredth(w.Centre[0]), hundredth(w.Centre[1]), hundredth(w.Centre[2])}
		}
		out.Pieces = append(out.Pieces, j)
	}
	return out
}

func (l *balanceList) ballastData() *ballastJSON {
	if l.Of.Ballast == nil {
		return nil
	}
	b := &ballastJSON{Part: l.Of.Ballast.ID, At: hundredth(l.BallastAt), Needed: hundredth(l.Needed), Solid: hundredth(l.Solid),
		Stated: l.Stated, Volume: hundredth(l.Volume), Room: hundredth(l.Of.Room)}
	if l.Report.Sequence != nil && l.In >= 0 {
		b.In = l.Sequence.Place[l.In]
	}
	if l.Before >= 0 {
		b.Before = l.Sequence.Place[l.Before]
	}
	return b
}

func (l *balanceList) rows() [][]string {
	num := func(v float64) string { return fmt.Sprintf("%g", hundredth(v)) }
	rows := [][]string{{"kind", "step", "what", "mass g", l.Axis() + " mm", "how"}}
	for p, w := range l.Weights {
		at := ""
		if w.Place != balance.Nowhere {
			at = num(w.Centre[l.Of.Along])
		}
		rows = append(rows, []string{"piece", "", l.kit().Pieces[p].ID, num(w.Mass), at, string(w.How)})
	}
	for _, s := range l.Stages {
		rows = append(rows, []string{"stage", fmt.Sprint(l.Sequence.Place[s.Step]), l.Report.Constraints.Does(s.Step), num(s.Mass), num(s.At), ""})
	}
	rows = append(rows, []string{"without ballast", "", "", num(l.Empty.Mass), num(l.Empty.At), ""})
	if l.Of.Ballast != nil {
		rows = append(rows, []string{"ballast needed", "", l.Of.Ballast.ID, num(l.Needed), num(l.BallastAt), ""})
	}
	return append(rows, []string{"finished", "", "", num(l.Finished.Mass), num(l.Finished.At), ""})
}

// notes say what the figures rest on, and what is left out.
func (l *balanceList) notes() []string {
	mass, count := map[balance.How]float64{}, map[balance.How]int{}
	which := map[string][]string{}
	for p, w := range l.Weights {
		mass[w.How] += w.Mass
		count[w.How]++
		id := l.kit().Pieces[p].ID
		which[string(w.How)] = append(which[string(w.How)], id)
		if w.Place != balance.Measured {
			which["place "+string(w.Place)] = append(which["place "+string(w.Place)], id)
		}
	}
	var list []string
	say := func(format string, args ...any) { list = append(list, fmt.Sprintf(format, args...)) }
	for _, h := range []struct {
		how  balance.How
		text string
	}{
		{balance.Stated, "with a mass that the kit states"},
		{balance.Solid, "by the volume of the mesh and the density of the material, taken as solid: a resin part that is hollow must be hollow in its mesh"},
		{balance.Filled, fmt.Sprintf("of filament, by the mesh: solid within %g mm of the surface, and inside that only as full as the kit says", mesh.Wall)},
		{balance.BySize, "by size alone, as solid boxes, so the most they can be"},
	} {
		if n := count[h.how]; n > 0 {
			say("%s, %.0f g: %s.", many(n, "piece"), mass[h.how], h.text)
		}
	}
	if l.Of.Ballast != nil && count[balance.Filled] > 0 && l.Solid > 0 && math.Abs(l.Solid-l.Needed) >= 1 {
		room := ""
		if b := l.Of; b.Room > 0 && l.Solid > b.Room*b.Pack {
			room = fmt.Sprintf(", and there is room for %.0f g", b.Room*b.Pack)
		}
		say("Printed solid throughout, %.0f g of ballast are needed instead of %.0f g%s.", math.Ceil(l.Solid), math.Ceil(l.Needed), room)
	}
	if l.Of.Weighed != nil {
		say("The balance without ballast is as weighed, not as added up.")
		which = nil
	}
	for _, h := range []struct{ key, text string }{
		{string(balance.Unknown), "Mass not known and left out; state it with mass: on the part"},
		{"place " + string(balance.Borrowed), "Without a mesh, so taken to be where the piece is that they are fitted to"},
		{"place " + string(balance.Nowhere), "Not known where, and left out"},
	} {
		if ids := which[h.key]; len(ids) > 0 {
			say("%s: %s.", h.text, fewOf(ids))
		}
	}
	say("Wires, glue, filler and paint are not counted, and prints differ. Before the last call close the model dry with bands, put it on its support with the ballast laid in, and trust that.")
	return list
}

// fewOf lists ids, but not too many.
func fewOf(ids []string) string {
	const most = 12
	text := strings.Join(ids[:min(len(ids), most)], ", ")
	if n := len(ids) - most; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return text
}
