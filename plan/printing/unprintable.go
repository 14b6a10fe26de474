package printing

import (
	"context"
	"slices"

	"dryfit/plan"
)

// roomToSpare is how much smaller than a printer's volume, in mm along each side,
// the box around a part must be to fit without computing a hull: twice what a
// hull may overstate.
const roomToSpare = 2.0

// Unprintable reports the parts of a kit that fit none of its printers; nothing
// for a kit without printers. They are the faults of [Plan.Findings] without
// making a plan: only parts whose box is too large for every printer are
// examined.
func Unprintable(ctx context.Context, p *plan.Project) ([]plan.Finding, error) {
	if len(p.Kit.Printers) == 0 {
		return nil, nil
	}
	r, _, err := Ask(p)
	if err != nil {
		return nil, err
	}
	plan := &Plan{}
	for _, part := range r.Parts {
		if len(part.Pieces) == 0 || r.plainlyFits(part) {
			continue
		}
		planned := newPlanned(part, r.Printers)
		f, err := look(ctx, part)
		if err != nil {
			return nil, err
		}
		for k, printer := range r.Printers {
			if part.Of.Printed == "" || part.Of.Printed == printer.Process {
				planned.Tried[k], planned.On[k] = true, Fit(f.hull, printer.Volume)
				if planned.On[k].Way != TooLarge {
					planned.Setting = &Setting{}
				}
			}
		}
		plan.Parts = append(plan.Parts, planned)
	}
	return plan.homeless(r.Printers), nil
}

// plainlyFits reports whether the box around a part fits a printer of its process,
// turned by right angles.
func (r *Request) plainlyFits(p *Part) bool {
	size := p.Shape.Size()
	slices.Sort(size[:])
	for _, printer := range r.Printers {
		room := printer.Volume
		slices.Sort(room[:])
		fits := printer.Process == p.Of.Printed || p.Of.Printed == ""
		for k := range 3 {
			fits = fits && size[k]+roomToSpare <= room[k]
		}
		if fits {
			return true
		}
	}
	return false
}
