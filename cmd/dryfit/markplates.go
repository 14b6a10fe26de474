package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"

	"dryfit/graphviz/report"
	"dryfit/kits"
	record "dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/printing"
)

// markedPlates are the plates that are named among what is to be marked.
type markedPlates struct {
	numbers []int
	aim     string
	planned []record.Plate // all of the present plan; nil if those named are kept already
}

// split takes the plates out of a list of names: plate-3.
func (m *markedPlates) split(kit *kits.Kit, names []string) (rest []string) {
	for _, name := range names {
		digits, is := strings.CutPrefix(name, "plate-")
		n, err := strconv.Atoi(digits)
		if !is || err != nil || n < 1 || kit.PiecesNamed(name) != nil {
			rest = append(rest, name)
		} else if !slices.Contains(m.numbers, n) {
			m.numbers = append(m.numbers, n)
		}
	}
	return rest
}

// pieces lists the pieces of the model on the plates. Plates that are not kept yet are
// those of the plan as it is now; there is nothing to take back of them.
func (m *markedPlates) pieces(ctx context.Context, kit *kits.Kit, file *record.File, undo bool, load func() (*plan.Project, error)) ([]int, error) {
	if i := slices.IndexFunc(m.numbers, func(n int) bool { return file.Plate(n) == nil }); i >= 0 {
		if undo {
			return nil, fmt.Errorf("nothing is marked: %s keeps no plate %d", kits.Plain(file.Name), m.numbers[i])
		}
		if err := m.plan(ctx, load); err != nil {
			return nil, err
		}
	}
	var list []int
	for _, n := range m.numbers {
		p := file.Plate(n)
		if i := slices.IndexFunc(m.planned, func(p record.Plate) bool { return p.Number == n }); p == nil && i >= 0 {
			p = &m.planned[i]
		}
		if p == nil {
			return nil, fmt.Errorf("the plan has no plate %d; dryfit printing lists the plates", n)
		}
		for _, x := range p.Pieces {
			list = append(list, kit.PiecesNamed(x.ID)...)
		}
	}
	return list, nil
}

func (m *markedPlates) plan(ctx context.Context, load func() (*plan.Project, error)) error {
	p, err := load()
	if err != nil {
		return err
	}
	if len(p.Kit.Printers) == 0 {
		return fmt.Errorf("%s names no printers, so it has no plates", kits.Plain(p.Kit.File))
	}
	made, err := report.PlanPrinting(ctx, p, printing.Aim(m.aim), nil)
	if err != nil {
		return err
	}
	m.planned = made.Keep()
	return nil
}

// say says of each plate that it is printed, or no longer so.
func (m *markedPlates) say(w io.Writer, undo bool) {
	for _, n := range m.numbers {
		state := "printed"
		if undo {
			state = "not printed"
		}
		fmt.Fprintf(w, "plate %d: %s\n", n, state)
	}
}
