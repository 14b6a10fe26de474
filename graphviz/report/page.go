package report

import (
	"context"
	"fmt"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/chart"
	"dryfit/graphviz/page"
	"dryfit/graphviz/plates"
	"dryfit/graphviz/svg"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/printing"
)

// PageMaker makes what the page shows besides the model, in the words of the
// reports. tell is called with the progress of the pictures, 0 to 1, and warn
// with warnings.
func PageMaker(tell func(what string, share float64), warn func(string)) page.Maker {
	pictures := func(ctx context.Context, p *plan.Project) (map[int][]byte, error) {
		made, err := booklet.MakeKept(ctx, p, booklet.Options{Language: language, Progress: tell}, warn)
		if err != nil {
			return nil, err
		}
		list := map[int][]byte{}
		for _, pic := range made.Pictures {
			list[p.Sequence.Place[pic.Step]] = svg.Standalone(pic.Picture.SVG(p.Constraints.Does(pic.Step)))
		}
		return list, nil
	}
	return page.Maker{Pictures: pictures, Plates: pagePlates, Days: pageDays}
}

func pagePlates(ctx context.Context, p *plan.Project) (*page.Plates, error) {
	made, err := PlanPrinting(ctx, p, printing.ForOrder, nil)
	if err != nil {
		return nil, err
	}
	return made.Page(), nil
}

// Page is what the page shows of the plates.
func (p *Printing) Page() *page.Plates {
	out := &page.Plates{Says: p.summary(), Findings: complete(p.findings), List: []page.Plate{}}
	for _, plate := range p.Plates {
		view := page.Plate{
			Title:   plates.Title(plate),
			Says:    fmt.Sprintf("%s, done %s", plateSummary(plate), after(plate.Ends)),
			Parts:   []page.Printed{},
			Drawing: p.Drawing(plate),
		}
		for _, on := range partsOn(plate) {
			part := page.Printed{Name: on.part.Of.Label()}
			for _, x := range on.pieces {
				part.Pieces = append(part.Pieces, x.Piece.ID)
			}
			view.Parts = append(view.Parts, part)
		}
		out.List = append(out.List, view)
	}
	return out
}

func pageDays(p *plan.Project, s *plan.Schedule) (*page.Days, error) {
	out := &page.Days{Says: timeSummary(p, s), Days: []page.Day{}}
	if out.Drawn = len(s.Order) <= chart.MaxSteps; out.Drawn {
		var err error
		if out.Chart, err = chart.SVG(s); err != nil {
			return nil, err
		}
	}
	for _, v := range s.Order {
		day, at := s.Clock(s.Start[v], false)
		if n := len(out.Days); n == 0 || out.Days[n-1].Number != day {
			out.Days = append(out.Days, page.Day{Number: day, Steps: []page.TimedStep{}})
		}
		step := page.TimedStep{Number: s.Number(v), Text: s.Does(v), Start: clock(at), Decides: s.Critical[v]}
		if s.Takes(v) > 0 {
			step.Takes = english.Span(s.Takes(v))
		}
		if s.Sets[v] > 0 {
			step.Sets = english.Span(s.Sets[v])
		}
		today := &out.Days[len(out.Days)-1]
		today.Steps = append(today.Steps, step)
	}
	return out, nil
}
