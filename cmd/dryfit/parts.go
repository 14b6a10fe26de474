package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/project"
)

type partsOptions struct {
	format string
	json   bool
}

var partsFormats = []string{"text", "csv", "json"}

func newParts() *cobra.Command {
	var o partsOptions
	cmd := &cobra.Command{
		Use:   "parts KIT",
		Short: "List parts, hardware and what is used up",
		Long: `parts lists what a kit consists of: printed parts by the sub-build that they are
first used in, hardware, jigs and spares, with quantities, spares to have and the steps
they come in; mirrored pairs and parts that look alike and are not; then adhesives and
tools. Spares marked * are a suggestion: one, or a tenth (common practice).

With --json it prints {"kit", "revision", "parts": [{"part", "number", "name",
"quantity", "spares", "spares_suggested", "class", "material", "build", "steps",
"mirror_of", "looks_like", "fragile", "note"}], "fixings": [{"fixing", "handle",
"cure", "steps"}], "tools"}; times are in seconds.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.json {
				o.format = "json"
			}
			return runParts(cmd.Context(), cmd.OutOrStdout(), args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "text", "how to print it: "+strings.Join(partsFormats, ", "))
	f.BoolVar(&o.json, "json", false, "the same as --format json")
	completeFlag(cmd, "format", partsFormats)
	return cmd
}

func runParts(ctx context.Context, w io.Writer, path string, o partsOptions) error {
	show := map[string]func(io.Writer, *partsList) error{"text": partsText, "csv": partsCSV, "json": partsJSON}[o.format]
	if show == nil {
		return fmt.Errorf("--format %s is none of %s", kits.Plain(o.format), strings.Join(partsFormats, ", "))
	}
	rep, err := load(ctx, path, project.Options{})
	if err != nil {
		if o.format == "json" {
			return failJSON(w, path, err)
		}
		return err
	}
	if rep.Sequence == nil {
		return noOrder(w, rep, o.format == "json")
	}
	l := &partsList{rep: rep, numbers: bill.NewNumbers(rep), items: bill.List(rep)}
	if rep.Meshes == nil && o.format == "text" {
		fmt.Fprintln(os.Stderr, "dryfit: the kit names no meshes, so parts that look alike are not known")
	}
	return show(w, l)
}

// partsList is what parts prints.
type partsList struct {
	rep     *plan.Project
	items   []bill.Item
	numbers *bill.Numbers
}

// heading is the part of the list that an item stands in.
func (l *partsList) heading(i bill.Item) string {
	switch {
	case !i.Part.InModel():
		return "Jigs, spares and stock: never in the model"
	case !i.Part.ToPrint():
		return "Hardware: bought, or made by the builder"
	case i.Build == 0:
		return "Printed, main build"
	}
	return "Printed, sub-build " + l.rep.Sequence.Builds[i.Build].Letter + ": " + l.rep.Sequence.Title(i.Build)
}

// grouped puts what is printed before the hardware, and that before the rest.
func (l *partsList) grouped() []bill.Item {
	var list []bill.Item
	for _, which := range []func(*kits.Part) bool{
		func(p *kits.Part) bool { return p.InModel() && p.ToPrint() },
		func(p *kits.Part) bool { return p.InModel() && !p.ToPrint() },
		func(p *kits.Part) bool { return !p.InModel() },
	} {
		for _, i := range l.items {
			if which(i.Part) {
				list = append(list, i)
			}
		}
	}
	return list
}

// material is what a part is made of, or how the builder comes by it.
func materialOf(p *kits.Part) string {
	switch {
	case p.Printed != "":
		return p.Printed
	case p.Bought:
		return "bought"
	case p.Made:
		return "made"
	}
	return "not stated"
}

// remarks are what is to be known of a part.
func (l *partsList) remarks(i bill.Item) []string {
	var list []string
	p := i.Part
	if !p.InModel() || p.Class == "option" {
		list = append(list, p.Class)
	}
	if p.Pair != nil {
		list = append(list, "mirror image of "+l.numbers.Of(p.Pair))
	}
	if len(i.LooksLike) > 0 {
		list = append(list, "looks like "+strings.Join(l.numbersOf(i.LooksLike), ", ")+", but is not the same")
	}
	if p.Fragile {
		list = append(list, "fragile")
	}
	if p.Note != "" {
		list = append(list, strings.Join(strings.Fields(p.Note), " "))
	}
	return list
}

func (l *partsList) numbersOf(parts []*kits.Part) []string {
	list := make([]string, len(parts))
	for i, p := range parts {
		list[i] = l.numbers.Of(p)
	}
	return list
}

func spareText(i bill.Item) string {
	if i.Suggested {
		return strconv.Itoa(i.Spares) + "*"
	}
	return strconv.Itoa(i.Spares)
}

func stepList(steps []int) string {
	list := make([]string, len(steps))
	for i, n := range steps {
		list[i] = strconv.Itoa(n)
	}
	return strings.Join(list, ", ")
}

func partsText(w io.Writer, l *partsList) error {
	p, s, k := &printer{w: w}, styleFor(w), l.rep.Kit
	title := k.Name
	if k.Revision != "" {
		title += ", revision " + k.Revision
	}
	pieces := 0
	for _, i := range l.items {
		if i.Part.InModel() {
			pieces += i.Part.Quantity
		}
	}
	if k.Scale != "" {
		title += ", " + k.Scale
	}
	p.wrap("", "", fmt.Sprintf("%s: %s in the model; %s listed in all.", title, many(pieces, "piece"), many(len(l.items), "part")))
	last := ""
	for _, i := range l.grouped() {
		if h := l.heading(i); h != last {
			p.line("")
			p.line("%s", s.bold(h))
			p.line("  %-7s %4s %6s  %-9s %s", "ref.", "qty", "spares", "material", "name")
			last = h
		}
		text := i.Part.Name
		if len(i.Steps) > 0 {
			text += "  [step " + stepList(i.Steps) + "]"
		}
		p.wrap(fmt.Sprintf("  %-7s %4d %6s  %-9s ", i.Number, i.Part.Quantity, spareText(i), materialOf(i.Part)), strings.Repeat(" ", 32), text)
		if r := l.remarks(i); len(r) > 0 {
			p.wrap(strings.Repeat(" ", 32), strings.Repeat(" ", 32), strings.Join(r, "; "))
		}
	}
	p.line("")
	p.line("%s", s.bold("Adhesives and fixings"))
	for _, u := range bill.Fixings(l.rep) {
		times := "holds at once"
		if u.Fixing.Handle > 0 || u.Fixing.Cure > 0 {
			times = fmt.Sprintf("handle after %s, full strength after %s", span(u.Fixing.Handle), span(u.Fixing.Cure))
		}
		p.wrap(fmt.Sprintf("  %-12s ", u.Fixing.ID), strings.Repeat(" ", 15), fmt.Sprintf("%s; %s", times, many(len(u.Steps), "step")))
	}
	if len(k.Tools) > 0 {
		p.line("")
		p.line("%s", s.bold("Tools and consumables"))
		for _, t := range k.Tools {
			p.wrap("  - ", "    ", t)
		}
	}
	p.line("")
	p.wrap("", "", "Spares marked * are a suggestion (one, or a tenth: common practice). Keep small magnets and cells from children.")
	return p.err
}

func partsCSV(w io.Writer, l *partsList) error {
	rows := [][]string{{"reference", "quantity", "spares", "name", "material", "class", "build", "steps", "mirror of", "looks like", "fragile", "note", "part", "revision"}}
	for _, i := range l.grouped() {
		p := i.Part
		mirror := ""
		if p.Pair != nil {
			mirror = l.numbers.Of(p.Pair)
		}
		rows = append(rows, []string{i.Number, strconv.Itoa(p.Quantity), strconv.Itoa(i.Spares), p.Name, materialOf(p), p.Class, l.buildLetter(i), stepList(i.Steps),
			mirror, strings.Join(l.numbersOf(i.LooksLike), " "), yes(p.Fragile), p.Note, p.ID, l.rep.Kit.Revision})
	}
	return writeCSV(w, rows)
}

func yes(b bool) string {
	if b {
		return "yes"
	}
	return ""
}

func (l *partsList) buildLetter(i bill.Item) string {
	if !i.Part.InModel() || i.Build >= len(l.rep.Sequence.Builds) {
		return ""
	}
	return l.rep.Sequence.Builds[i.Build].Letter
}

// partsReport is the JSON of parts.
type partsReport struct {
	Kit      string       `json:"kit"`
	Revision string       `json:"revision"`
	Parts    []partJSON   `json:"parts"`
	Fixings  []fixingJSON `json:"fixings"`
	Tools    []string     `json:"tools"`
}

type partJSON struct {
	Part      string   `json:"part"`
	Number    string   `json:"number"`
	Name      string   `json:"name"`
	Quantity  int      `json:"quantity"`
	Spares    int      `json:"spares"`
	Suggested bool     `json:"spares_suggested"`
	Class     string   `json:"class"`
	Material  string   `json:"material"`
	Build     string   `json:"build"`
	Steps     []int    `json:"steps"`
	MirrorOf  string   `json:"mirror_of"`
	LooksLike []string `json:"looks_like"`
	Fragile   bool     `json:"fragile"`
	Note      string   `json:"note"`
}

type fixingJSON struct {
	Fixing string `json:"fixing"`
	Handle int    `json:"handle"`
	Cure   int    `json:"cure"`
	Steps  []int  `json:"steps"`
}

func partsJSON(w io.Writer, l *partsList) error {
	out := partsReport{Kit: l.rep.Kit.Name, Revision: l.rep.Kit.Revision, Parts: []partJSON{}, Fixings: []fixingJSON{}, Tools: append([]string{}, l.rep.Kit.Tools...)}
	for _, i := range l.grouped() {
		p := i.Part
		j := partJSON{Part: p.ID, Number: i.Number, Name: p.Name, Quantity: p.Quantity, Spares: i.Spares, Suggested: i.Suggested, Class: p.Class,
			Material: materialOf(p), Build: l.buildLetter(i), Steps: append([]int{}, i.Steps...), LooksLike: []string{}, Fragile: p.Fragile, Note: p.Note}
		if p.Pair != nil {
			j.MirrorOf = p.Pair.ID
		}
		for _, q := range i.LooksLike {
			j.LooksLike = append(j.LooksLike, q.ID)
		}
		out.Parts = append(out.Parts, j)
	}
	for _, u := range bill.Fixings(l.rep) {
		out.Fixings = append(out.Fixings, fixingJSON{u.Fixing.ID, int(u.Fixing.Handle.Seconds()), int(u.Fixing.Cure.Seconds()), u.Steps})
	}
	return writeJSON(w, out)
}
