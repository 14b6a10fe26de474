package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/magnets"
)

func newMagnets() *cobra.Command {
	var o listOptions
	cmd := &cobra.Command{
		Use:   "magnets KIT",
		Short: "List magnets: which way each points, what repels, whether pockets suit them",
		Long: `magnets lists the magnets of a kit with the way their north poles point in the
finished model, tells of each pair whether it attracts or repels, and holds pockets
against the size of the magnets. Where meshes are named, pairs are found by where the
magnets are; else they are taken to lie one over the other.

With --json it prints {"kit", "ok", "findings", "magnets": [{"piece", "part", "label",
"north", "sits_in", "mate", "verdict", "measured", "pocket", "wider", "deeper"}],
"notes"}; verdicts are attract, repel and neither, lengths are mm.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runMagnets(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	o.addFlags(cmd)
	return cmd
}

var needMagnets = needs{"magnets", func(k *kits.Kit) bool { return len(k.Magnets) > 0 }, `magnets:
  - {magnet: hatch-magnet, north: [0, 0, 1], mates: hull-magnet, pocket: [5.2, 2.2]}
  - {magnet: hull-magnet, north: [0, 0, 1]}`}

func runMagnets(ctx context.Context, w, messages io.Writer, path string, o listOptions) error {
	return runList(ctx, w, messages, path, o, needMagnets, func(rep *plan.Project) list {
		return newMagnetList(rep)
	})
}

// magnetNotes is what must be known of all magnets (common practice; the limits by the
// two documents named, the temperature of ordinary grades from memory). Nothing here says that any is safe:
// practically every magnet that holds a hatch is over the limits.
var magnetNotes = []string{
	"WARNING. Magnets as small as these can be swallowed. Two that are swallowed pinch the gut between them and can kill: keep loose ones from children, glue and seal them in, count the spares; if one is swallowed get medical help at once and say that it was magnets.",
	"Limits are set for loose magnets that fit the small-parts cylinder: a flux index below 50 kG2 mm2 by 16 CFR 1262.3 in the United States (toys: part 1250), and the same, 0.5 T2 mm2, for toys by EN 71-1 in Europe. Nothing was measured here and nothing is said to be below them.",
	"Glue: set the first magnet with cyanoacrylate or epoxy and seal it over with a second drop. Let the second snap onto it, mark its outer face, and glue it by that mark.",
	"Heat: no soldering iron and no hot pressing; common neodymium magnets begin to lose strength for good at about 80 degrees Celsius.",
	"Magnets hold and do not guide: give each hatch a lip or pins, and no more than about half a millimetre over a magnet, as the pull falls steeply with the gap.",
}

type magnetList struct {
	kit    *kits.Kit
	lines  []magnetJSON
	wrongs []plan.Finding
}

type magnetJSON struct {
	Piece    string      `json:"piece"`
	Part     string      `json:"part"`
	Label    string      `json:"label"`
	North    [3]float64  `json:"north"`
	SitsIn   string      `json:"sits_in,omitempty"`
	Mate     string      `json:"mate,omitempty"`
	Verdict  string      `json:"verdict,omitempty"`
	Measured bool        `json:"measured"`         // pair and verdict follow from meshes
	Pocket   *[2]float64 `json:"pocket,omitempty"` // diameter and depth
	Wider    *float64    `json:"wider,omitempty"`  // than the magnet
	Deeper   *float64    `json:"deeper,omitempty"`
}

func newMagnetList(rep *plan.Project) *magnetList {
	k := rep.Kit
	l := &magnetList{kit: k, wrongs: magnets.Findings(rep)}
	mates := map[int]magnets.Pair{}
	for _, p := range magnets.Pairs(rep) {
		mates[p.A] = p
		p.A, p.B = p.B, p.A
		if _, known := mates[p.A]; !known {
			mates[p.A] = p
		}
	}
	for _, m := range k.Magnets {
		for _, p := range m.Pieces {
			l.lines = append(l.lines, magnetLine(k, m, p, mates))
		}
	}
	return l
}

func magnetLine(k *kits.Kit, m *kits.Magnets, p int, mates map[int]magnets.Pair) magnetJSON {
	pc := k.Pieces[p]
	out := magnetJSON{Piece: pc.ID, Part: pc.Part.ID, Label: k.Label(p), North: m.North}
	if j := k.Fitted(p); j != nil {
		out.SitsIn = k.Pieces[j.Onto[0]].ID
	}
	if pair, known := mates[p]; known {
		out.Mate, out.Verdict, out.Measured = k.Pieces[pair.B].ID, string(pair.Verdict), pair.Measured
	}
	if m.Pocket != nil {
		out.Pocket = &[2]float64{m.Pocket.Diameter, m.Pocket.Depth}
	}
	if wider, deeper, known := magnets.Slack(m, pc.Part); known {
		wider, deeper = hundredth(wider), hundredth(deeper)
		out.Wider, out.Deeper = &wider, &deeper
	}
	return out
}

func (l *magnetList) findings() []plan.Finding { return l.wrongs }

func (l *magnetList) data() any {
	return struct {
		headed
		Magnets []magnetJSON `json:"magnets"`
		Notes   []string     `json:"notes"`
	}{head(l.kit, l.wrongs), l.lines, magnetNotes}
}

func (l *magnetList) rows() [][]string {
	rows := [][]string{{"piece", "part", "label", "north", "sits in", "mate", "verdict", "pocket diameter mm", "pocket depth mm", "wider mm", "deeper mm", "swallowed"}}
	for _, m := range l.lines {
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

func (l *magnetList) text(p *printer, s style) {
	p.line("%s", s.bold(fmt.Sprintf("%s: %s; north is the way it points in the finished model", l.kit.Name, many(len(l.lines), "magnet"))))
	t := columns{{"magnet", "north", "sits in", "holds to", "", "pocket mm", "to spare mm"}}
	measured := true
	for _, m := range l.lines {
		row := []string{m.Piece, arrow(m.North), m.SitsIn, m.Mate, strings.ToUpper(m.Verdict), "", ""}
		if m.Verdict == string(magnets.Attract) {
			row[4] = m.Verdict
		}
		measured = measured && (m.Mate == "" || m.Measured)
		if m.Pocket != nil {
			row[5] = fmt.Sprintf("%g x %g", m.Pocket[0], m.Pocket[1])
		}
		if m.Wider != nil {
			row[6] = fmt.Sprintf("%g x %g", *m.Wider, *m.Deeper)
		}
		t = append(t, row)
	}
	t.print(p)
	if !measured {
		p.wrap("", "", "Some of these have no meshes: they are taken to lie one over the other, the first copy on the first.")
	}
	p.line("")
	p.wrap("", "", "A pocket should be 0.1 to 0.2 mm wider and deeper than its magnet, at this scale. Try it in a gauge print first: holes come out narrow.")
	p.line("")
	for _, n := range magnetNotes {
		p.wrap("  - ", "    ", n)
	}
}

// arrow shows the way a pole points; up and down are as the model stands.
func arrow(north [3]float64) string {
	a := english.Direction(north)
	switch a {
	case "+z":
		return "+z, up"
	case "-z":
		return "-z, down"
	}
	return a
}
