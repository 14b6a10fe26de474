package main

import (
	"context"
	"fmt"
	"io"
	"math"
	"os"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/balance"
)

func newBalance() *cobra.Command {
	var o listOptions
	cmd := &cobra.Command{
		Use:   "balance KIT",
		Short: "Work out mass, balance and the ballast that is needed",
		Long: `balance adds up what the pieces weigh, by what the kit states, by meshes and materials,
or else by sizes, and follows where the model balances as it grows. For the ballast
that the kit names it tells how much is needed so that the finished model leans on the
right side of its support, whether that fits the room it has, and before which step it
must be in. Text tells of steps that bring much; csv and json tell of all, and of every
piece.

With --json it prints {"kit", "ok", "findings", "along", "support", "target", "known",
"without_ballast": {"mass", "at"}, "finished", "ballast": {"part", "at", "needed",
"needed_if_solid", "stated", "volume", "room", "fitted_at_step", "before_step"},
"proven", "stages": [{"step", "text", "pieces", "mass", "at"}], "pieces": [{"piece",
"mass", "how", "fill", "centre", "place"}], "notes"}; g, mm and cm3.

` + exitHelp,
		Args:              exactly(1),
		ValidArgsFunction: completeKit(nil),
		RunE: func(cmd *cobra.Command, args []string) error {
			return runBalance(cmd.Context(), cmd.OutOrStdout(), os.Stderr, args[0], o)
		},
	}
	o.addFlags(cmd)
	return cmd
}

var needBalance = needs{"balance", func(k *kits.Kit) bool { return k.Balance != nil }, `balance: {along: x, support: 205, ballast: shot, inside: [42, 30, 24]}

where support is where along the axis the model stands, such as its main wheels`}

func runBalance(ctx context.Context, w, messages io.Writer, path string, o listOptions) error {
	return runList(ctx, w, messages, path, o, needBalance, func(rep *plan.Project) list {
		r := balance.Of(rep)
		return &balanceList{r, r.Findings()}
	})
}

type balanceList struct {
	*balance.Result
	found []plan.Finding
}

func (l *balanceList) findings() []plan.Finding { return l.found }

func (l *balanceList) kit() *kits.Kit { return l.Report.Kit }

func (l *balanceList) text(p *printer, s style) {
	p.line("%s", s.bold(fmt.Sprintf("%s: balance along %s", l.kit().Name, l.Axis())))
	l.summary().print(p)
	p.line("")
	if len(l.Stages) > 0 && l.Stages[len(l.Stages)-1].Mass > 0 {
		title := "The main build as it grows, at the steps that bring the most"
		if l.Report.Sequence == nil {
			title += "; no sequence is proven, so in that of the file"
		}
		p.line("%s", s.bold(title))
		l.growth().print(p)
		p.line("")
	}
	p.line("%s", s.bold("How this was worked out"))
	for _, n := range l.notes() {
		p.wrap("  - ", "    ", n)
	}
}

// summary is what a builder wants to know first.
func (l *balanceList) summary() columns {
	b := l.Of
	if !l.Known {
		return columns{{"balance", "not known: the kit names no meshes. Weigh the dry model, balance it on an edge, and write weighed: {mass, at}"}}
	}
	t := columns{{"without ballast", l.point(l.Empty)}}
	if b.Ballast == nil {
		return append(t, []string{"ballast", "the kit names none"})
	}
	if !l.Placed {
		return append(t, []string{"ballast", b.Ballast.Label() + ": it is not known where it is; give at: to balance, or its part a mesh"})
	}
	t = append(t, []string{"must balance at", fmt.Sprintf("%s = %.0f mm, or farther toward the ballast: %g mm from where it stands", l.Axis(), l.Target, b.Margin)})
	amount := fmt.Sprintf("%.0f g needed at %s = %.0f mm", math.Ceil(l.Needed), l.Axis(), l.BallastAt)
	switch {
	case !l.Possible:
		amount = fmt.Sprintf("cannot do it at %s = %.0f mm", l.Axis(), l.BallastAt)
	case l.Needed == 0:
		amount = "none needed"
	}
	if l.Stated > 0 {
		amount += fmt.Sprintf("; the kit states %.0f g", l.Stated)
	}
	t = append(t, []string{"ballast", b.Ballast.Label() + ": " + amount})
	if b.Room > 0 {
		t = append(t, []string{"room", fmt.Sprintf("%.1f cm3 of %.1f cm3, as it lies at %g g/cm3", l.Volume, b.Room, b.Pack)})
	}
	t = append(t, []string{"finished", l.point(l.Finished)})
	return append(t, l.deadline()...)
}

// point words a mass and where it balances.
func (l *balanceList) point(q balance.Point) string {
	text := fmt.Sprintf("%.0f g, balances at %s = %.0f mm", q.Mass, l.Axis(), q.At)
	if !l.Placed {
		return text + fmt.Sprintf("; it stands at %g mm", l.Of.Support)
	}
	if off := l.Off(q.At); off >= 0 {
		return text + fmt.Sprintf(", %.0f mm beyond where it stands (%g mm): it tips over", off, l.Of.Support)
	}
	return text + fmt.Sprintf(", %.0f mm from where it stands (%g mm), toward the ballast", -l.Off(q.At), l.Of.Support)
}

func (l *balanceList) deadline() columns {
	if l.Report.Sequence == nil {
		return columns{{"goes in", "no sequence is proven; see dryfit check"}}
	}
	q, r := l.Sequence, l.Report.Constraints
	var t columns
	if l.In >= 0 {
		t = append(t, []string{"goes in", fmt.Sprintf("at step %d: %s", q.Place[l.In], r.Does(l.In))})
	}
	if l.Before >= 0 {
		t = append(t, []string{"last call", fmt.Sprintf("before step %d: %s", q.Place[l.Before], r.Does(l.Before))})
	}
	return t
}

// growthShare is the share of the finished mass that a step must bring to be told of.
const growthShare = 0.03

func (l *balanceList) growth() columns {
	t := columns{{"step", "mass g", "at mm", "what"}}
	before := 0.0
	for i, s := range l.Stages {
		if s.Mass-before >= growthShare*l.Finished.Mass || i == len(l.Stages)-1 {
			t = append(t, []string{fmt.Sprintf("%4d", l.Sequence.Place[s.Step]), fmt.Sprintf("%6.0f", s.Mass), fmt.Sprintf("%5.0f", s.At), l.Report.Constraints.Does(s.Step)})
		}
		before = s.Mass
	}
	return t
}
