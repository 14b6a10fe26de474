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

	"dryfit/graphviz/chart"
	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/project"
)

type timeOptions struct {
	hands  int
	day    time.Duration
	format string
	json   bool
	chart  string
	force  bool
}

var timeFormats = []string{"text", "csv", "json"}

func newTime() *cobra.Command {
	var o timeOptions
	cmd := &cobra.Command{
		Use:   "time KIT",
		Short: "Plan the work by day and hour: how long it takes, and what to do while glue sets",
		Long: `time says when each step starts, how long the build takes and which steps decide
that. While glue or paint sets, steps that come later in the order are done. Only
those that may be: whatever overlaps, the sequence is a valid order of the kit.

A day is 24 hours and work goes on in its first --day hours; 2:30 is two and a
half hours after work has begun. Handling times and cures go on overnight. A step
is not interrupted unless it is longer than a working day. With several pairs of
hands only one of them works on a sub-build at a time. Steps without a time in the
kit file count as taking none.

In the table > marks the critical path: the steps that decide when the build is
done, each held up by the one before it. The chart has a row for each step: dark
bars are work, hatched ones are setting, and the critical path has arrowheads.

With --format json it prints, with times in seconds from the start of day 1:

  {"kit", "ok", "hands", "day", "hands_on", "waiting", "elapsed", "cured",
   "bound", "bound_of_any_order", "untimed", "critical_path": [number],
   "steps": [{"number", "text", "build", "start", "end", "hands_on", "sets",
   "who", "critical"}], "idle": [{"from", "to", "next"}], "findings"}

day is 0 round the clock; numbers are those of dryfit order; sets is how long
other steps wait after the end; who is which pair of hands, 0 for steps without a
time. Nothing shorter than bound exists with the same sub-builds, and shut in the
same sequence; nothing shorter than bound_of_any_order exists at all.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			if o.json {
				o.format = "json"
			}
			return runTime(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	f := cmd.Flags()
	f.IntVar(&o.hands, "hands", 1, "pairs of hands, up to "+strconv.Itoa(plan.MaxHands))
	f.DurationVar(&o.day, "day", 8*time.Hour, "how long work goes on each day, from 15m to 24h; 0 is round the clock")
	f.StringVar(&o.format, "format", "text", "how to print it: "+strings.Join(timeFormats, ", "))
	f.BoolVar(&o.json, "json", false, "the same as --format json")
	f.StringVar(&o.chart, "chart", "", "draw a chart into this file, as SVG")
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	completeFlag(cmd, "format", timeFormats)
	return cmd
}

func (o timeOptions) check() error {
	switch {
	case o.hands < 1 || o.hands > plan.MaxHands:
		return fmt.Errorf("--hands %d is not between 1 and %d", o.hands, plan.MaxHands)
	case o.day != 0 && (o.day < 15*time.Minute || o.day > 24*time.Hour):
		return fmt.Errorf("--day %s is neither 0 nor between 15m and 24h", o.day)
	case o.chart != "" && !strings.HasSuffix(strings.ToLower(o.chart), ".svg"):
		return fmt.Errorf("--chart %s: the chart is SVG; choose a name that ends in .svg", o.chart)
	}
	return nil
}

func runTime(ctx context.Context, w, messages io.Writer, path string, o timeOptions) error {
	show := map[string]func(io.Writer, *plan.Project, *plan.Schedule) error{
		"text": timeText, "csv": timeCSV, "json": timeJSONText,
	}[o.format]
	if show == nil {
		return fmt.Errorf("--format %s is none of %s", kits.Plain(o.format), strings.Join(timeFormats, ", "))
	}
	if err := o.check(); err != nil {
		return err
	}
	asJSON := o.format == "json"
	rep, err := load(ctx, path, project.Options{})
	if err != nil {
		return fail(w, path, asJSON, err)
	}
	if rep.Sequence == nil {
		if asJSON {
			err = writeJSON(w, findingsJSON{rep.Kit.Name, false, complete(rep.Findings)})
		} else {
			err = checkText(messages, rep)
		}
		if err == nil {
			err = errFindings
		}
		return err
	}
	s, err := rep.Sequence.Schedule(o.hands, o.day)
	if err != nil {
		if asJSON {
			return failJSON(w, path, err)
		}
		return err
	}
	if !asJSON {
		if err := findingsText(messages, rep.Findings, true); err != nil {
			return err
		}
	}
	if o.chart != "" {
		data, err := chart.SVG(s)
		if err == nil {
			err = writeFile(o.chart, data, o.force, svg.Ours)
		}
		if err != nil {
			return err
		}
	}
	return show(w, rep, s)
}

func timeCSV(w io.Writer, rep *plan.Project, s *plan.Schedule) error {
	rows := [][]string{{"number", "what", "build", "start day", "start", "end day", "end", "hands-on seconds", "sets seconds", "who", "critical"}}
	for _, v := range s.Order {
		row := timeStepOf(s, v)
		startDay, start := s.Clock(s.Start[v], false)
		endDay, end := s.Clock(s.End[v], true)
		rows = append(rows, []string{strconv.Itoa(row.Number), row.Text, row.Build, strconv.Itoa(startDay), clock(start), strconv.Itoa(endDay), clock(end),
			strconv.Itoa(row.HandsOn), strconv.Itoa(row.Sets), strconv.Itoa(row.Who), strconv.FormatBool(row.Critical)})
	}
	return writeCSV(w, rows)
}

// timeReport is the JSON of time; all times are in seconds.
type timeReport struct {
	Kit      string         `json:"kit"`
	OK       bool           `json:"ok"`
	Hands    int            `json:"hands"`
	Day      int            `json:"day"`
	HandsOn  int            `json:"hands_on"`
	Waiting  int            `json:"waiting"`
	Elapsed  int            `json:"elapsed"`
	Cured    int            `json:"cured"`
	Bound    int            `json:"bound"`
	Floor    int            `json:"bound_of_any_order"`
	Untimed  int            `json:"untimed"`
	Critical []int          `json:"critical_path"`
	Steps    []timeStep     `json:"steps"`
	Idle     []idleJSON     `json:"idle"`
	Findings []plan.Finding `json:"findings"`
}

type timeStep struct {
	Number   int    `json:"number"`
	Text     string `json:"text"`
	Build    string `json:"build"`
	Start    int    `json:"start"`
	End      int    `json:"end"`
	HandsOn  int    `json:"hands_on"`
	Sets     int    `json:"sets"`
	Who      int    `json:"who"`
	Critical bool   `json:"critical"`
}

type idleJSON struct {
	From int `json:"from"`
	To   int `json:"to"`
	Next int `json:"next"` // number of the step that ends it
}

func seconds(d time.Duration) int { return int(d / time.Second) }

func timeStepOf(s *plan.Schedule, v int) timeStep {
	q := s.Sequence
	return timeStep{q.Place[v], q.Solution.Constraints.Does(v), q.Builds[q.BuildOf[v]].Letter, seconds(s.Start[v]), seconds(s.End[v]),
		seconds(s.Takes(v)), seconds(s.Sets[v]), s.Who[v], s.Critical[v]}
}

func timeJSONText(w io.Writer, rep *plan.Project, s *plan.Schedule) error {
	out := timeReport{Kit: rep.Kit.Name, OK: rep.OK(), Hands: s.Hands, Day: seconds(s.Day), HandsOn: seconds(s.HandsOn), Waiting: seconds(s.Waiting),
		Elapsed: seconds(s.Length), Cured: seconds(s.Cured), Bound: seconds(s.Bound), Floor: seconds(s.Floor), Untimed: s.Untimed,
		Critical: []int{}, Steps: []timeStep{}, Idle: []idleJSON{}, Findings: complete(rep.Findings)}
	for _, l := range s.Chain {
		out.Critical = append(out.Critical, s.Sequence.Place[l.Activity])
	}
	for _, v := range s.Order {
		out.Steps = append(out.Steps, timeStepOf(s, v))
	}
	for _, i := range s.Idle {
		out.Idle = append(out.Idle, idleJSON{seconds(i.From), seconds(i.To), s.Sequence.Place[s.Next(i)]})
	}
	return writeJSON(w, out)
}
