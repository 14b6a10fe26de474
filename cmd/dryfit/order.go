package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/precedence"
	"dryfit/plan/project"
)

type orderOptions struct {
	format string
	json   bool
	cost   bool
}

var orderFormats = []string{"text", "markdown", "csv", "json"}

func newOrder() *cobra.Command {
	var o orderOptions
	cmd := &cobra.Command{
		Use:   "order KIT",
		Short: "Print the numbered build sequence",
		Long: `order prints a build sequence that is proven: at each step every piece can still
reach its seat. Before a step that shuts something for good it lists what can
never be reached again.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.json {
				o.format = "json"
			}
			return runOrder(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringVar(&o.format, "format", "text", "how to print it: "+strings.Join(orderFormats, ", "))
	f.BoolVar(&o.json, "json", false, "the same as --format json")
	f.BoolVar(&o.cost, "cost", false, "print what the order costs, term by term, on standard error")
	completeFlag(cmd, "format", orderFormats)
	return cmd
}

// completeFlag completes a flag with fixed words.
func completeFlag(cmd *cobra.Command, flag string, words []string) {
	if err := cmd.RegisterFlagCompletionFunc(flag, cobra.FixedCompletions(words, cobra.ShellCompDirectiveNoFileComp)); err != nil {
		panic(err) // the flag was defined a line before
	}
}

func runOrder(ctx context.Context, w, messages io.Writer, path string, o orderOptions) error {
	show := map[string]func(io.Writer, *plan.Project) error{
		"text": orderText, "markdown": orderMarkdown, "csv": orderCSV, "json": orderJSON,
	}[o.format]
	if show == nil {
		return fmt.Errorf("--format %s is none of %s", o.format, strings.Join(orderFormats, ", "))
	}
	rep, err := load(ctx, path, project.Options{})
	if err != nil {
		return fail(w, path, o.format == "json", err)
	}
	if rep.Sequence == nil {
		if o.format == "json" {
			err = orderJSON(w, rep)
		} else {
			err = checkText(messages, rep)
		}
		if err == nil {
			err = errFindings
		}
		return err
	}
	if o.format != "json" {
		if err := findingsText(messages, rep.Findings, true); err != nil {
			return err
		}
	}
	if o.cost {
		if err := costText(messages, rep.Sequence); err != nil {
			return err
		}
	}
	return show(w, rep)
}

func costText(w io.Writer, q *plan.Sequence) error {
	p := &printer{w: w}
	for _, t := range q.Cost {
		p.line("%-11s %4d x %-5g  %s", t.Name, t.Count, t.Weight, t.Means)
	}
	if q.Cost == nil {
		p.line("the kit is so large that its first order was kept and no cost was computed")
	} else {
		p.line("%-11s %.2f", "total", q.Cost.Total())
	}
	return p.err
}

// summary is what the builder wants to know first.
func summary(rep *plan.Project) string {
	q := rep.Sequence
	c := q.Clock()
	printed := 0
	for _, p := range rep.Kit.Pieces {
		if !p.Part.Bought && !p.Part.Made {
			printed++
		}
	}
	text := fmt.Sprintf("%s: %s, %s", rep.Kit.Name, many(len(q.Order), "step"), many(printed, "printed piece"))
	if n := len(rep.Kit.Pieces) - printed; n > 0 {
		text += " and " + many(n, "other")
	}
	if n := len(q.SubBuilds()); n > 0 {
		text += " in " + many(n, "sub-build")
	}
	if c.HandsOn > 0 {
		text += fmt.Sprintf(". Hands-on %s where stated", span(c.HandsOn))
	}
	if c.OnePair > 0 {
		text += fmt.Sprintf(". With one pair of hands %s round the clock, waits included", span(c.OnePair))
	}
	return text + "."
}

func orderText(w io.Writer, rep *plan.Project) error {
	q, r, s := rep.Sequence, rep.Constraints, styleFor(w)
	p := &printer{w: w}
	p.wrap("", "", summary(rep))
	last, seen, done := -1, map[int]bool{}, waited{}
	for _, v := range q.Order {
		if u := q.BuildOf[v]; u != last {
			p.line("")
			p.line("%s", s.bold(heading(q, u, v, seen[u])))
			last, seen[u] = u, true
		}
		p.wrap(fmt.Sprintf("%4d. ", q.Place[v]), "      ", r.Does(v)+done.note(q, v))
		if note := noteOf(r.Steps[v]); note != "" {
			p.wrap("      ", "      ", note)
		}
		if masked := q.Masked(v); masked != "" {
			p.wrap("      ", "      ", "masked by now: "+masked)
		}
		for i, tick := range q.Reminders(v) {
			if i == 0 {
				p.line("      %s", s.bold("LAST CALL before this step; afterwards it is out of reach for good:"))
			}
			p.wrap("      [ ] ", "          ", tick.Text)
		}
	}
	p.line("")
	p.line("%s", s.bold("Cautions"))
	for _, c := range cautions(rep.Kit) {
		p.wrap("  - ", "    ", c)
	}
	return p.err
}

// heading names a build where the sequence enters it with step v.
func heading(q *plan.Sequence, u, v int, again bool) string {
	if u == 0 {
		return map[bool]string{false: "Main build", true: "Main build, continued"}[again]
	}
	text := fmt.Sprintf("Sub-build %s: %s", q.Builds[u].Letter, q.Title(u))
	if again {
		text += ", continued"
	}
	join := q.Place[q.Builds[u].Join]
	if join < q.Place[v] {
		return text + fmt.Sprintf(" (joined at step %d)", join)
	}
	return text + fmt.Sprintf(" (joins at step %d)", join)
}

// waited remembers how long after each step the sequence has waited already.
type waited map[int]time.Duration

// note says in brackets what a step is made with and what it waits for, if no
// earlier step has waited for that already.
func (done waited) note(q *plan.Sequence, v int) string {
	step := q.Solution.Constraints.Steps[v]
	var notes []string
	if step.Join != nil && step.Join.Fixing != nil {
		notes = append(notes, step.Join.Fixing.ID)
	}
	if q.PaintFirst(v) {
		notes = append(notes, "paint first")
	}
	for _, w := range q.Waits(v) {
		if w.For > done[w.On] {
			done[w.On] = w.For
			notes = append(notes, fmt.Sprintf("%s after step %d", span(w.For), q.Place[w.On]))
		}
	}
	if len(notes) == 0 {
		return ""
	}
	return "  [" + strings.Join(notes, "; ") + "]"
}

func noteOf(s plan.Step) string {
	switch {
	case s.Join != nil:
		return s.Join.Note
	case s.Wire != nil:
		return s.Wire.Note
	}
	return s.Task.Note
}

func orderMarkdown(w io.Writer, rep *plan.Project) error {
	q, r := rep.Sequence, rep.Constraints
	p := &printer{w: w}
	p.line("# %s", mdText(rep.Kit.Name))
	p.line("")
	p.line("%s", mdText(summary(rep)))
	last, seen, done := -1, map[int]bool{}, waited{}
	for _, v := range q.Order {
		if u := q.BuildOf[v]; u != last {
			p.line("")
			p.line("## %s", mdText(heading(q, u, v, seen[u])))
			p.line("")
			last, seen[u] = u, true
		}
		marker := fmt.Sprintf("%d. ", q.Place[v])
		in := strings.Repeat(" ", len(marker)) // what continues an item stands under its text
		p.line("%s%s", marker, mdText(r.Does(v)+done.note(q, v)))
		if note := noteOf(r.Steps[v]); note != "" {
			p.line("")
			p.line("%s%s", in, mdText(strings.Join(strings.Fields(note), " ")))
			p.line("")
		}
		if masked := q.Masked(v); masked != "" {
			p.line("")
			p.line("%smasked by now: %s", in, mdText(masked))
			p.line("")
		}
		if ticks := q.Reminders(v); len(ticks) > 0 {
			p.line("")
			p.line("%s**Last call** before this step; afterwards it is out of reach for good:", in)
			p.line("")
			for _, tick := range ticks {
				p.line("%s- [ ] %s", in, mdText(tick.Text))
			}
			p.line("")
		}
	}
	p.line("")
	p.line("## Cautions")
	p.line("")
	for _, c := range cautions(rep.Kit) {
		p.line("- %s", mdText(c))
	}
	return p.err
}

// mdText keeps text of the kit from being read as Markdown or HTML.
func mdText(s string) string {
	return strings.NewReplacer(`\`, `\\`, "`", "\\`", "*", `\*`, "_", `\_`, "[", `\[`, "]", `\]`,
		"<", "&lt;", ">", "&gt;", "&", "&amp;", "#", `\#`, "|", `\|`, "~", `\~`).Replace(s)
}

func orderCSV(w io.Writer, rep *plan.Project) error {
	q := rep.Sequence
	f := q.Freedom()
	rows := [][]string{{"number", "kind", "what", "pieces", "to", "build", "with", "step", "earliest", "latest", "last call"}}
	for _, v := range q.Order {
		s := stepOf(rep, f, v)
		rows = append(rows, []string{strconv.Itoa(s.Number), string(s.Kind), s.Text, strings.Join(s.Pieces, " "), strings.Join(s.To, " "),
			s.Build, s.With, s.Step, strconv.Itoa(s.Earliest), strconv.Itoa(s.Latest), strings.Join(s.LastCall, "; ")})
	}
	return writeCSV(w, rows)
}

// orderReport is the JSON of order.
type orderReport struct {
	Kit      string         `json:"kit"`
	OK       bool           `json:"ok"`
	Steps    []stepJSON     `json:"steps"`
	Builds   []buildJSON    `json:"builds"`
	Cost     plan.Cost      `json:"cost"`
	Time     *timeJSON      `json:"time,omitempty"`
	Cautions []string       `json:"cautions"`
	Findings []plan.Finding `json:"findings"`
}

type stepJSON struct {
	Number      int         `json:"number"`
	Kind        plan.Kind   `json:"kind"`
	Text        string      `json:"text"`
	Pieces      []string    `json:"pieces"`
	To          []string    `json:"to"`
	Build       string      `json:"build"`
	With        string      `json:"with"`
	Toward      *[3]float64 `json:"toward,omitempty"` // direction of travel, of length 1
	Step        string      `json:"step"`
	Earliest    int         `json:"earliest"`
	Latest      int         `json:"latest"`
	LatestBound bool        `json:"latest_is_bound"`
	Waits       []waitJSON  `json:"waits"`
	LastCall    []string    `json:"last_call"`
}

type waitJSON struct {
	After   int `json:"after"` // number of a step
	Seconds int `json:"seconds"`
}

type buildJSON struct {
	Letter string `json:"letter"`
	Name   string `json:"name"`
	Joins  int    `json:"joins,omitempty"` // number of the step that joins it to the rest
	Into   string `json:"into,omitempty"`
}

// timeJSON has times in seconds.
type timeJSON struct {
	HandsOn int `json:"hands_on"`
	OnePair int `json:"one_pair_of_hands"`
	Least   int `json:"critical_path"`
}

func orderJSON(w io.Writer, rep *plan.Project) error {
	out := orderReport{Kit: rep.Kit.Name, OK: rep.OK(), Steps: []stepJSON{}, Builds: []buildJSON{}, Cost: plan.Cost{},
		Cautions: cautions(rep.Kit), Findings: complete(rep.Findings)}
	if q := rep.Sequence; q != nil {
		f := q.Freedom()
		for _, v := range q.Order {
			out.Steps = append(out.Steps, stepOf(rep, f, v))
		}
		out.Builds = buildsOf(q)
		if q.Cost != nil {
			out.Cost = q.Cost
		}
		c := q.Clock()
		out.Time = &timeJSON{int(c.HandsOn.Seconds()), int(c.OnePair.Seconds()), int(c.Least.Seconds())}
	}
	return writeJSON(w, out)
}

func buildsOf(q *plan.Sequence) []buildJSON {
	list := []buildJSON{{Letter: "main", Name: q.Title(0)}}
	for _, u := range q.SubBuilds() {
		b := q.Builds[u]
		list = append(list, buildJSON{b.Letter, q.Title(u), q.Place[b.Join], q.Builds[b.Parent].Letter})
	}
	return list
}

func stepOf(rep *plan.Project, f *precedence.Freedom, v int) stepJSON {
	q, r, k := rep.Sequence, rep.Constraints, rep.Kit
	s := r.Steps[v]
	out := stepJSON{Number: q.Place[v], Kind: s.Kind, Text: r.Does(v), Pieces: []string{}, To: []string{}, Build: q.Builds[q.BuildOf[v]].Letter,
		Earliest: f.Earliest[v], Latest: f.Latest[v], LatestBound: f.Bound[v], Waits: []waitJSON{}, LastCall: []string{}, Toward: r.Toward(v)}
	switch {
	case s.Join != nil:
		out.Pieces, out.To = ids(k, s.Join.Pieces), ids(k, s.Join.Onto)
		out.Step = s.Join.Step
		if s.Join.Fixing != nil {
			out.With = s.Join.Fixing.ID
		}
	case s.Wire != nil:
		out.To = ids(k, append([]int{s.Wire.From}, append(s.Wire.Through, s.Wire.To)...))
		out.Step = s.Wire.ID
	default:
		out.Step = s.Task.Step
	}
	for _, w := range q.Waits(v) {
		out.Waits = append(out.Waits, waitJSON{q.Place[w.On], int(w.For.Seconds())})
	}
	for _, c := range q.LastCall(v) {
		out.LastCall = append(out.LastCall, q.Say(c))
	}
	return out
}

func ids(k *kits.Kit, pieces []int) []string {
	list := make([]string, len(pieces))
	for i, p := range pieces {
		list[i] = k.Pieces[p].ID
	}
	return list
}
