package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/lights"
)

type lightsOptions struct {
	listOptions
	series string
}

var seriesByName = map[string]lights.Series{"E12": lights.E12, "E24": lights.E24}

func newLights() *cobra.Command {
	var o lightsOptions
	cmd := &cobra.Command{
		Use:   "lights KIT",
		Short: "Work out resistors, currents, battery life and wires of the lamps",
		Long: `lights works out each branch of the lamps of a kit: the resistor by R = (V - n Vf) / I
and the next standard value up, what flows when the supply is fresh and when it is
flat, what the resistor must stand, how long the battery lasts, and how long the wires
are. Resistors that the kit states are checked.

With --json it prints {"kit", "ok", "findings", "volts", "fresh", "flat", "capacity",
"series", "branches": [{"lamps", "labels", "forward", "wanted", "computed", "resistor",
"proposed", "current", "current_fresh", "current_flat", "power", "rating", "headroom",
"straight", "length", "length_stated"}], "total", "hours", "hours_least", "hours_most",
"holes", "notes"}; V, mA, ohm, mW, mm and mAh.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runLights(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	o.addFlags(cmd)
	cmd.Flags().StringVar(&o.series, "series", "E12", "standard values to propose: E12 or E24")
	completeFlag(cmd, "series", []string{"E12", "E24"})
	return cmd
}

var needLights = needs{"lights", func(k *kits.Kit) bool { return k.Lights != nil }, `lights:
  volts: 9
  flat: 6
  branches:
    - {lamps: tail-lamp, colour: white, current: 5}`}

func runLights(ctx context.Context, w, messages io.Writer, path string, o lightsOptions) error {
	series, known := seriesByName[strings.ToUpper(o.series)]
	if !known {
		return fmt.Errorf("--series %s is neither E12 nor E24", kits.Plain(o.series))
	}
	return runList(ctx, w, messages, path, o.listOptions, needLights, func(rep *plan.Project) list {
		c := lights.Of(rep, series)
		return &lightList{c, c.Findings()}
	})
}

// lightNotes are the usual cautions (common practice).
var lightNotes = []string{
	"Never connect a lamp without its resistor, not even to try it. Lamps work one way round only: the longer lead is the positive one, as a rule.",
	"Test every lamp on the bench, after threading, before each closing, after it, and at the end.",
	"Lamps that are hard to get at get a branch of their own: of lamps in series, one that fails darkens all.",
	"Solder away from magnets and batteries; ventilate. Sleeve every joint, and mark which wire is which.",
	"WARNING. Battery: metal across the terminals can start a fire. Cap or tape them while it is out of the model, and leave none loose in the box.",
	"Forward voltages are usual ones where only a colour is given; the data sheet of the lamp comes first. Nothing here is for mains or for lithium cells.",
}

type lightList struct {
	*lights.Circuit
	found []plan.Finding
}

func (l *lightList) findings() []plan.Finding { return l.found }

func (l *lightList) text(p *printer, s style) {
	of := l.Lights
	supply := fmt.Sprintf("%g V", of.Volts)
	if of.Supply >= 0 {
		supply += " from " + l.Kit.Label(of.Supply)
	}
	if of.Fresh > of.Volts || of.Flat < of.Volts {
		supply += fmt.Sprintf("; %g V when fresh, %g V when flat", of.Fresh, of.Flat)
	}
	p.line("%s", s.bold(l.Kit.Name+": "+supply))
	volts := fmt.Sprintf("mA at %g V", of.Volts)
	t := columns{{"lamps", "Vf", "wanted", "computed", "resistor", volts, "fresh", "flat", "rating", "left flat", "pair"}}
	for _, b := range l.Branches {
		r := "none"
		if b.Resistor > 0 {
			if r = lights.Ohms(b.Resistor); b.Proposed {
				r += " *"
			}
		}
		t = append(t, []string{l.lamps(b), fmt.Sprintf("%g V", b.Of.Forward), fmt.Sprintf("%g mA", b.Of.Current), ohmsOf(b.Wanted), r,
			fmt.Sprintf("%.2f", b.Nominal), fmt.Sprintf("%.2f", b.Fresh), fmt.Sprintf("%.2f", b.Flat), lights.Watts(b.Rating),
			fmt.Sprintf("%.1f V", b.Headroom), pairOf(b)})
	}
	t.print(p)
	p.line("")
	if l.proposes() {
		p.wrap("", "", fmt.Sprintf("* proposed: the next value of %s (IEC 60063) above what was computed.", l.Series.Name))
	}
	p.wrap("", "", fmt.Sprintf("In all %.1f mA at %g V, %.1f mA fresh, %.1f mA flat. A resistor that stands %s is enough for each: twice what it gets rid of when fresh.", l.Nominal, of.Volts, l.Fresh, l.Flat, lights.Watts(l.rating())))
	l.lifeText(p)
	l.wireText(p)
	p.line("")
	for _, n := range lightNotes {
		p.wrap("  - ", "    ", n)
	}
}

func (l *lightList) lamps(b *lights.Branch) string {
	return strings.Join(ids(l.Kit, b.Of.Lamps), " + ")
}

func (l *lightList) proposes() bool {
	return slices.ContainsFunc(l.Branches, func(b *lights.Branch) bool { return b.Proposed })
}

func (l *lightList) estimates() bool {
	return slices.ContainsFunc(l.Branches, func(b *lights.Branch) bool { return b.Of.Length == 0 && b.Length > 0 })
}

// rating is the greatest that any resistor needs; 0 if one needs more than there is.
func (l *lightList) rating() float64 {
	most := 0.0
	for _, b := range l.Branches {
		if b.Resistor > 0 && b.Rating == 0 {
			return 0
		}
		most = max(most, b.Rating)
	}
	return most
}

func (l *lightList) lifeText(p *printer) {
	nominal, least, most := l.Hours()
	if nominal == 0 {
		return
	}
	p.wrap("", "", fmt.Sprintf("%g mAh last some %.0f to %.0f hours, %.1f by the nominal voltage: less as if the supply stayed fresh, more as its voltage falls evenly. Cold, old or cheap batteries last less.",
		l.Lights.Capacity, math.Floor(least), math.Ceil(most), nominal))
}

func (l *lightList) wireText(p *printer) {
	of := l.Lights
	if length, unknown := l.Pairs(); length > 0 {
		text := fmt.Sprintf("Wire: %s of pairs, so %s of single wire, without what feeds them", metres(length), metres(2*length))
		if unknown > 0 {
			text += fmt.Sprintf("; %s of unknown length", many(unknown, "more pair"))
		}
		if l.estimates() {
			text += ". Lengths marked ~ are the straight way through the pieces by their meshes, a fifth for bends, and 60 mm at each end"
		}
		p.wrap("", "", text+".")
	}
	if g := of.Gauge; g != nil {
		text := fmt.Sprintf("Solid wire of AWG %d is %.3f mm bare, %.2f ohm a metre", *g, lights.Diameter(*g), lights.OhmPerMetre(*g))
		if of.Cover > 0 {
			text += fmt.Sprintf("; %g mm over the cover", of.Cover)
		}
		p.wrap("", "", text+".")
	}
	for _, h := range l.Holes {
		if h.Wires > 2 {
			p.wrap("", "", fmt.Sprintf("%s: %s in a hole of %g mm or more, at most %.0f %% full.", l.Kit.Pieces[h.Piece].ID, many(h.Wires, "wire"), h.Across, 100*h.Share))
		}
	}
}

func ohmsOf(r float64) string {
	if r <= 0 {
		return "none"
	}
	return lights.Ohms(r)
}

func pairOf(b *lights.Branch) string {
	switch {
	case b.Of.Length > 0:
		return fmt.Sprintf("%.0f mm", b.Length)
	case b.Length > 0:
		return fmt.Sprintf("~%.0f mm", math.Ceil(b.Length/10)*10)
	}
	return "?"
}

func metres(mm float64) string { return fmt.Sprintf("%.1f m", math.Ceil(mm/100)/10) }
