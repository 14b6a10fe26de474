package main

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dryfit/graphviz/chart"
	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/graphviz/svg"
	"dryfit/kits/atomicfile"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/rehearse"
)

type timeOptions struct {
	hands int
	day   time.Duration
	chart string
	force bool
}

func newTime() *cobra.Command {
	var o timeOptions
	var out output
	cmd := ofKit(&cobra.Command{
		Use:   "time KIT",
		Short: "Plan the work by day and hour: how long it takes, and what to do while glue sets",
		Long: `time says when each step starts, how long the build takes and which steps decide
that. While glue or paint sets, later steps are done where the kit allows it: the
result is always a valid order of the kit.`,
	}, func(kit string) error {
		if err := o.check(); err != nil {
			return err
		}
		return out.run(kit, project.Options{}, ordered(o.report))
	})
	out.addTo(cmd, document.Formats(true)...)
	f := cmd.Flags()
	f.IntVar(&o.hands, "hands", 1, "pairs of hands, up to "+strconv.Itoa(plan.MaxHands))
	f.DurationVar(&o.day, "day", plan.WorkingDay, "how long work goes on each day, from 15m to 24h; 0 is round the clock")
	f.StringVar(&o.chart, "chart", "", "draw a chart into this file, as SVG")
	f.BoolVar(&o.force, "force", false, "replace a file that dryfit has not written")
	return cmd
}

func (o *timeOptions) check() error {
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

// report plans the days, and draws the chart if it is asked for.
func (o *timeOptions) report(p *plan.Project) (*report.Report, error) {
	s, err := rehearse.Schedule(p, o.hands, o.day)
	if err != nil {
		return nil, err
	}
	if o.chart != "" {
		drawing, err := chart.SVG(s)
		if err == nil {
			err = atomicfile.Write(o.chart, drawing, o.force, svg.Ours)
		}
		if err != nil {
			return nil, err
		}
	}
	return report.Time(p, s), nil
}
