package main

import (
	"context"
	"fmt"
	"time"

	"dryfit/graphviz/chart"
	"dryfit/graphviz/page"
	"dryfit/graphviz/plates"
	"dryfit/graphviz/svg"
	"dryfit/graphviz/words"
	"dryfit/plan"
)

// pageMaker makes what the page shows beside the model, in the words of the commands.
var pageMaker = page.Maker{Pictures: stepPictures, Plates: pagePlates, Days: pageDays}

// stepPictures draws the steps as the booklet does, with the pictures that were kept.
func stepPictures(ctx context.Context, rep *plan.Project) (map[int][]byte, error) {
	made, err := makeBooklet(ctx, rep, words.Language{Tag: "en"})
	if err != nil {
		return nil, err
	}
	list := map[int][]byte{}
	for _, p := range made.Pictures {
		list[rep.Sequence.Place[p.Step]] = svg.Standalone(p.Picture.SVG(rep.Constraints.Does(p.Step)))
	}
	return list, nil
}

// pagePlates is the plan of the printing, as printing tells it.
func pagePlates(ctx context.Context, rep *plan.Project) (*page.Plates, error) {
	p, err := printingOf(ctx, rep, nil)
	if err != nil {
		return nil, err
	}
	out := &page.Plates{Says: printingSummary(p), Findings: complete(p.findings), List: []page.Plate{}}
	for _, plate := range p.Plates {
		printer := plate.Printer.ID
		if plate.Printer.Count > 1 {
			printer += fmt.Sprintf(" no. %d", plate.Unit)
		}
		view := page.Plate{
			Title:   fmt.Sprintf("Plate %d: %s on %s", plate.Number, plate.Material.ID, printer),
			Says:    fmt.Sprintf("%s, done %s", plateSays(plate), after(plate.Ends)),
			Parts:   []page.Printed{},
			Drawing: plates.Plate(plate, rep.Kit.Name+"; "+plateSays(plate)),
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
	return out, nil
}

// pageDay is the working day that the page plans with.
const pageDay = 8 * time.Hour

// pageDays is the plan of the days, as time tells it.
func pageDays(rep *plan.Project) (*page.Days, error) {
	s, err := rep.Sequence.Schedule(1, pageDay)
	if err != nil {
		return nil, err
	}
	out := &page.Days{Says: timeSummary(rep, s), Days: []page.Day{}}
	if out.Drawn = len(s.Order) <= chart.MaxSteps; out.Drawn {
		if out.Chart, err = chart.SVG(s); err != nil {
			return nil, err
		}
	}
	for _, v := range s.Order {
		day, at := s.Clock(s.Start[v], false)
		if n := len(out.Days); n == 0 || out.Days[n-1].Number != day {
			out.Days = append(out.Days, page.Day{Number: day, Steps: []page.TimedStep{}})
		}
		step := page.TimedStep{Number: s.Sequence.Place[v], Start: clock(at), Decides: s.Critical[v]}
		if s.Takes(v) > 0 {
			step.Takes = span(s.Takes(v))
		}
		if s.Sets[v] > 0 {
			step.Sets = span(s.Sets[v])
		}
		today := &out.Days[len(out.Days)-1]
		today.Steps = append(today.Steps, step)
	}
	return out, nil
}
