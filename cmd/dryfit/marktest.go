package main

import (
	"context"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"dryfit/kits"
	"dryfit/kits/format"
	record "dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
	"dryfit/plan/testprints"
)

// testOptions are what mark is told of a test print.
type testOptions struct {
	result, note, printer, date string
	cmd                         *cobra.Command
}

// testFlags are those that only go with tested and failed.
var testFlags = []string{"result", "note", "printer", "date"}

func (o *testOptions) addTo(cmd *cobra.Command) {
	o.cmd = cmd
	f := cmd.Flags()
	f.StringVar(&o.result, "result", "", "with tested: "+strings.Join(record.Results(), ", "))
	f.StringVar(&o.note, "note", "", "with tested or failed: a note for the next print")
	f.StringVar(&o.printer, "printer", "", "with tested or failed: the printer (default: the one planned)")
	f.StringVar(&o.date, "date", "", "with tested or failed: the day, such as 2026-03-31 (default: today)")
	completeFlag(cmd, "result", record.Results())
}

// refuse is the error of options without a test print.
func (o *testOptions) refuse() error {
	for _, name := range testFlags {
		if o.cmd.Flags().Changed(name) {
			return fmt.Errorf("--%s is for the states tested and failed", name)
		}
	}
	return nil
}

// check completes the options for a state. The error says what is wrong with them.
func (o *testOptions) check(failed, undo bool) error {
	switch {
	case failed && o.result != "":
		return errors.New("--result is for the state tested; a failed print has no other result")
	case failed:
		o.result = record.Failed
	case undo:
	case o.result == "":
		return fmt.Errorf("missing --result: say how the test print is: %s", strings.Join(record.Results(), ", "))
	case !slices.Contains(record.Results(), o.result):
		return fmt.Errorf("--result %q: use one of %s", kits.Plain(o.result), strings.Join(record.Results(), ", "))
	}
	if strings.ContainsAny(o.note, "\n\t") || utf8.RuneCountInString(o.note) > format.MaxText {
		return fmt.Errorf("--note must be on one line, of at most %d characters", format.MaxText)
	}
	if o.date == "" {
		o.date = time.Now().Format(time.DateOnly)
	}
	if err := record.CheckDate(o.date); err != nil {
		return fmt.Errorf("--date %w", err)
	}
	return nil
}

// change logs test prints of what is named or, with undo, takes the last of each out of
// the log. A failed print is no longer printed.
func (o *testOptions) change(ctx context.Context, m *marking, failed, undo bool, names []string) (change, []error, error) {
	if err := o.check(failed, undo); err != nil {
		return nil, nil, err
	}
	parts, ids, wrong := record.FindPrinted(m.kit, names)
	if len(wrong) > 0 {
		return nil, wrong, nil
	}
	if undo {
		for _, p := range parts {
			m.told = append(m.told, p.Label()+": its last test print is no longer logged")
		}
		return func(f *record.File) (*record.File, error) { return f.Unlog(m.kit, parts) }, nil, nil
	}
	p, err := m.project()
	if err != nil {
		return nil, nil, err
	}
	tests, err := o.tests(ctx, p, parts, ids, printing.Aim(m.plates.aim))
	if err != nil {
		return nil, nil, err
	}
	for i, t := range tests {
		m.told = append(m.told, parts[i].Label()+": "+testText(t))
	}
	return func(f *record.File) (*record.File, error) {
		after, err := f.Log(m.kit, tests...)
		if err != nil || !failed {
			return after, err
		}
		marks, aside := record.Marks{State: record.Printed, Undo: true}, []string(nil)
		for _, id := range ids {
			if pieces := m.kit.PiecesNamed(id); pieces != nil {
				marks.Add(pieces...)
			} else {
				aside = append(aside, id)
			}
		}
		if after, err = after.TakeOff(m.kit, aside); err != nil {
			return nil, err
		}
		return after.Mark(m.kit, marks)
	}, nil, nil
}

// testText says what is logged of a test print.
func testText(t record.Test) string {
	text := "test print of " + t.Date + " " + t.Result
	if t.Result == record.Failed {
		text = "print of " + t.Date + " failed"
	}
	if t.Printer != "" {
		text += " on " + t.Printer
	}
	if t.Material != "" {
		text += ", " + t.Material
	}
	return text
}

// tests describes the test prints of parts: printer, material and turn as planned, unless
// another printer is named.
func (o *testOptions) tests(ctx context.Context, p *plan.Project, parts []*kits.Part, ids []string, aim printing.Aim) ([]record.Test, error) {
	if o.printer != "" && !slices.ContainsFunc(p.Kit.Printers, func(k *kits.Printer) bool { return k.ID == o.printer }) {
		return nil, fmt.Errorf("--printer: the kit has no printer called %q", kits.Plain(o.printer))
	}
	planned, err := o.planned(ctx, p, aim)
	if err != nil {
		return nil, err
	}
	var list []record.Test
	for _, part := range parts {
		// Positions in p are those of the same file, read once more.
		same := p.Kit.Parts[slices.IndexFunc(p.Kit.Parts, func(q *kits.Part) bool { return q.ID == part.ID })]
		t := record.Test{Part: kits.Ref{Name: part.ID}, Date: o.date, Result: o.result, Printer: o.printer, Note: o.note, Mesh: testprints.Content(p, same)}
		if part.Material != nil {
			t.Material = part.Material.ID
		}
		if plate, s := placed(planned, same, ids); plate != nil {
			x, y, z := s.Turn.Angles()
			t.Printer, t.Material, t.Turn = plate.Printer.ID, plate.Material.ID, &[3]float64{tenth(x), tenth(y), tenth(z)}
		}
		list = append(list, t)
	}
	return list, nil
}

func tenth(a float64) float64 { return math.Round(a*10)/10 + 0 }

// placed is the first plate of a plan with a piece of a part that has one of the ids, and
// how it lies there; nil if there is none.
func placed(made *printing.Plan, part *kits.Part, ids []string) (*printing.Plate, *printing.Setting) {
	for _, plate := range made.Plates {
		for _, x := range plate.Pieces {
			if x.Part.Of == part && slices.Contains(ids, x.Piece.ID) {
				return plate, x.Setting
			}
		}
	}
	return nil, nil
}

// planned plans the printing of the whole kit, on one printer if one is named. What is
// printed already lies on its plate, the last if there are several.
func (o *testOptions) planned(ctx context.Context, p *plan.Project, aim printing.Aim) (*printing.Plan, error) {
	whole := *p
	whole.Progress = &record.File{}
	for _, kept := range slices.Backward(p.Progress.Plates) {
		kept.Printed = false
		whole.Progress.Plates = append(whole.Progress.Plates, kept)
	}
	progress := newProgress(os.Stderr)
	defer progress.done()
	made, _, err := project.Printing(ctx, &whole, func(r *printing.Request) {
		r.NoLayers, r.Aim = true, aim
		r.Progress = func(share float64) { progress.show("planning the printing", share) }
		if o.printer != "" {
			r.Printers = slices.DeleteFunc(slices.Clone(r.Printers), func(k *kits.Printer) bool { return k.ID != o.printer })
		}
	}, progress.warn)
	return made, err
}
