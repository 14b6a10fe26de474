package main

import (
	"fmt"
	"strings"

	"dryfit/plan/lights"
)

type branchJSON struct {
	Lamps    []string `json:"lamps"`
	Labels   []string `json:"labels"`
	Forward  float64  `json:"forward"`
	Wanted   float64  `json:"wanted"`   // mA
	Computed float64  `json:"computed"` // ohm; not positive when nothing is left for a resistor
	Resistor float64  `json:"resistor"` // 0 for none
	Proposed bool     `json:"proposed"`
	Nominal  float64  `json:"current"`
	Fresh    float64  `json:"current_fresh"`
	Flat     float64  `json:"current_flat"`
	Power    float64  `json:"power"`  // in the resistor when fresh
	Rating   float64  `json:"rating"` // to ask for; 0 if none is so large
	Headroom float64  `json:"headroom"`
	Straight float64  `json:"straight,omitempty"`
	Length   float64  `json:"length,omitempty"`
	Stated   bool     `json:"length_stated"`
}

type holeJSON struct {
	Piece string  `json:"piece"`
	Wires int     `json:"wires"`
	Hole  float64 `json:"hole"`
	Share float64 `json:"share"` // of the hole, 0 to 1
}

func (l *lightList) branch(b *lights.Branch) branchJSON {
	out := branchJSON{Lamps: ids(l.Kit, b.Of.Lamps), Forward: b.Of.Forward, Wanted: b.Of.Current, Computed: hundredth(b.Wanted),
		Resistor: b.Resistor, Proposed: b.Proposed, Nominal: hundredth(b.Nominal), Fresh: hundredth(b.Fresh), Flat: hundredth(b.Flat),
		Power: hundredth(b.Power), Rating: b.Rating, Headroom: hundredth(b.Headroom), Straight: hundredth(b.Straight),
		Length: hundredth(b.Length), Stated: b.Of.Length > 0}
	for _, p := range b.Of.Lamps {
		out.Labels = append(out.Labels, l.Kit.Label(p))
	}
	return out
}

func (l *lightList) data() any {
	nominal, least, most := l.Hours()
	out := struct {
		headed
		Volts    float64      `json:"volts"`
		Fresh    float64      `json:"fresh"`
		Flat     float64      `json:"flat"`
		Capacity float64      `json:"capacity,omitempty"`
		Series   string       `json:"series"`
		Branches []branchJSON `json:"branches"`
		Total    float64      `json:"total"`
		Hours    float64      `json:"hours,omitempty"`
		Least    float64      `json:"hours_least,omitempty"`
		Most     float64      `json:"hours_most,omitempty"`
		Holes    []holeJSON   `json:"holes"`
		Notes    []string     `json:"notes"`
	}{headed: head(l.Kit, l.found), Volts: l.Lights.Volts, Fresh: l.Lights.Fresh, Flat: l.Lights.Flat, Capacity: l.Lights.Capacity,
		Series: l.Series.Name, Total: hundredth(l.Nominal), Hours: hundredth(nominal), Least: hundredth(least), Most: hundredth(most),
		Branches: []branchJSON{}, Holes: []holeJSON{}, Notes: lightNotes}
	for _, b := range l.Branches {
		out.Branches = append(out.Branches, l.branch(b))
	}
	for _, h := range l.Holes {
		out.Holes = append(out.Holes, holeJSON{l.Kit.Pieces[h.Piece].ID, h.Wires, h.Across, hundredth(h.Share)})
	}
	return out
}

func (l *lightList) rows() [][]string {
	rows := [][]string{{"lamps", "label", "forward V", "wanted mA", "computed ohm", "resistor ohm", "proposed", "mA", "mA fresh", "mA flat", "mW fresh", "rating mW", "left when flat V", "pair mm", "pair stated"}}
	num := func(v float64) string { return fmt.Sprintf("%g", v) }
	yes := map[bool]string{true: "yes", false: "no"}
	for _, b := range l.Branches {
		j := l.branch(b)
		rows = append(rows, []string{strings.Join(j.Lamps, " "), strings.Join(j.Labels, "; "), num(j.Forward), num(j.Wanted), num(j.Computed), num(j.Resistor), yes[j.Proposed],
			num(j.Nominal), num(j.Fresh), num(j.Flat), num(j.Power), num(j.Rating), num(j.Headroom), num(j.Length), yes[j.Stated]})
	}
	return rows
}
