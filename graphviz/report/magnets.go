package report

import (
	"fmt"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/magnets"
)

// MagnetsData is the list of magnets. Lengths are in mm.
type MagnetsData struct {
	Head
	Magnets  []Magnet `json:"magnets"`  // in file order
	Notes    []string `json:"notes"`    // what must be known of all magnets
	Cautions []string `json:"cautions"` // for the work with magnets
}

// Magnet is one magnet of the model.
type Magnet struct {
	Piece    string      `json:"piece"`             // its id
	Part     string      `json:"part"`              // id of its part
	Label    string      `json:"label"`             // the builder's name for it
	North    [3]float64  `json:"north"`             // direction of its north pole in the model
	SitsIn   string      `json:"sits_in,omitempty"` // id of the piece that it is fitted to
	Mate     string      `json:"mate,omitempty"`    // id of the magnet that it meets
	Verdict  string      `json:"verdict,omitempty"` // attract, repel or neither
	Measured bool        `json:"measured"`          // pair and verdict follow from meshes
	Pocket   *[2]float64 `json:"pocket,omitempty"`  // diameter and depth
	Wider    *float64    `json:"wider,omitempty"`   // how much wider the pocket is than the magnet
	Deeper   *float64    `json:"deeper,omitempty"`  // how much deeper the pocket is than the magnet
}

// magnetNotes is what must be known of all magnets (common practice; the limits by the
// two documents named, from memory, as is the temperature). Nothing here
// says that any is safe: practically every magnet that holds a hatch is over the limits.
var magnetNotes = []string{
	"Limits are set for loose magnets that fit the small-parts cylinder: a flux index below 50 kG2 mm2 by 16 CFR 1262.3 of 2022 in the United States (toys: part 1250), and the same, 0.5 T2 mm2, for toys by EN 71-1:2014+A1:2018 in Europe (both from memory). Nothing was measured here and nothing is said to be below them.",
	"Glue: glue in the first magnet and seal it over with a second drop. Let the second snap onto it, mark its outer face, and glue it by that mark.",
	"Heat: no soldering iron and no hot pressing. Ordinary neodymium magnets begin to lose strength for good at about 80 degrees Celsius (from memory, without a source); the supplier's figure comes first.",
	"Magnets hold and do not guide: give each hatch a lip or pins, and no more than about half a millimetre over a magnet, as the pull falls steeply with the gap.",
}

// Magnets reports the magnets of a kit: poles, pairs and pockets.
func Magnets(p *plan.Project) *Report {
	found := magnets.Findings(p)
	list := magnetList(p)
	return subject(p, found, magnetBlocks(p.Kit, list), magnetSheet(list),
		func(h Head) any { return MagnetsData{h, list, magnetNotes, cautions(magnetHazards(p.Kit))} })
}

// magnetHazards are those of setting magnets.
func magnetHazards(k *kits.Kit) []plan.Hazard {
	return plan.Only(plan.Hazards(k), "magnets", "superglue", "epoxy", "adhesive", "magnet-heat")
}

func magnetList(p *plan.Project) []Magnet {
	mates := map[int]magnets.Pair{}
	for _, pair := range magnets.Pairs(p) {
		mates[pair.A] = pair
		pair.A, pair.B = pair.B, pair.A
		if _, known := mates[pair.A]; !known {
			mates[pair.A] = pair
		}
	}
	list := []Magnet{}
	for _, m := range p.Kit.Magnets {
		for _, piece := range m.Pieces {
			list = append(list, magnet(p.Kit, m, piece, mates))
		}
	}
	return list
}

func magnet(k *kits.Kit, m *kits.Magnets, piece int, mates map[int]magnets.Pair) Magnet {
	pc := k.Pieces[piece]
	out := Magnet{Piece: pc.ID, Part: pc.Part.ID, Label: k.Label(piece), North: m.North}
	if j := k.Fitted(piece); j != nil {
		out.SitsIn = k.Pieces[j.Onto[0]].ID
	}
	if pair, known := mates[piece]; known {
		out.Mate, out.Verdict, out.Measured = k.Pieces[pair.B].ID, string(pair.Verdict), pair.Measured
	}
	if m.Pocket != nil {
		out.Pocket = &[2]float64{m.Pocket.Diameter, m.Pocket.Depth}
	}
	if wider, deeper, known := magnets.Slack(m, pc.Part); known {
		out.Wider, out.Deeper = pointer(hundredth(wider)), pointer(hundredth(deeper))
	}
	return out
}

func magnetSheet(list []Magnet) [][]string {
	rows := [][]string{{"piece", "part", "label", "north", "sits in", "mate", "verdict", "pocket diameter mm", "pocket depth mm", "wider mm", "deeper mm", "swallowed"}}
	for _, m := range list {
		row := []string{m.Piece, m.Part, m.Label, fmt.Sprintf("%g %g %g", m.North[0], m.North[1], m.North[2]), m.SitsIn, m.Mate, m.Verdict, "", "", "", "", "WARNING: get medical help at once"}
		if m.Pocket != nil {
			row[7], row[8] = fmt.Sprintf("%g", m.Pocket[0]), fmt.Sprintf("%g", m.Pocket[1])
		}
		if m.Wider != nil {
			row[9], row[10] = fmt.Sprintf("%g", *m.Wider), fmt.Sprintf("%g", *m.Deeper)
		}
		rows = append(rows, row)
	}
	return rows
}

func magnetBlocks(k *kits.Kit, list []Magnet) []document.Block {
	var b blocks
	b.heading("%s: %s; north is its direction in the finished model", k.Name, english.Count(len(list), "magnet"))
	var rows [][]string
	measured := true
	for _, m := range list {
		rows = append(rows, magnetRow(m))
		measured = measured && (m.Mate == "" || m.Measured)
	}
	b.add(document.NewTable([]string{"magnet", "north", "sits in", "holds to", "", "pocket mm", "to spare mm"}, rows...))
	if !measured {
		b.text("Some of these have no meshes: they are assumed to lie one over the other, the first copy on the first.")
	}
	b.text("A pocket should be 0.1 to 0.2 mm wider and deeper than its magnet, at this scale. Try it in a gauge print first: holes come out narrow.")
	b.bullets(magnetNotes)
	b.add(cautionBlocks(magnetHazards(k), false)...)
	return b
}

func magnetRow(m Magnet) []string {
	row := []string{m.Piece, pole(m.North), m.SitsIn, m.Mate, strings.ToUpper(m.Verdict), "", ""}
	if m.Verdict == string(magnets.Attract) {
		row[4] = m.Verdict
	}
	if m.Pocket != nil {
		row[5] = fmt.Sprintf("%g x %g", m.Pocket[0], m.Pocket[1])
	}
	if m.Wider != nil {
		row[6] = fmt.Sprintf("%g x %g", *m.Wider, *m.Deeper)
	}
	return row
}

// pole words the direction of a pole; up and down are those of the finished
// model.
func pole(north [3]float64) string {
	a := english.Direction(north)
	switch a {
	case "+z":
		return "+z, up"
	case "-z":
		return "-z, down"
	}
	return a
}

func pointer[T any](v T) *T { return &v }
