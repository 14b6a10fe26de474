package rescale

import (
	"context"
	"fmt"
	"strings"
	"time"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/printing"
)

// Prints is the printing plan of a kit at both scales, on the printers that it names.
type Prints struct {
	Was, Now *printing.Plan
	Missing  []*kits.Part // neither mesh nor size
}

// prints plans the printing at both scales.
func (r *Report) prints(ctx context.Context) error {
	if len(r.Kit.Printers) == 0 {
		return nil
	}
	out := &Prints{}
	for i, of := range []struct {
		rep  *plan.Project
		plan **printing.Plan
	}{{r.Was, &out.Was}, {r.Now, &out.Now}} {
		q, missing, err := printing.Ask(of.rep)
		if err != nil {
			return err
		}
		q.NoLayers = true
		q.Progress = func(share float64) { r.tell("planning the printing", (float64(i)+share)/2) }
		if *of.plan, err = printing.Make(ctx, q); err != nil {
			return err
		}
		out.Missing = missing
	}
	r.Prints = out
	return nil
}

// MachineTime is what all plates of a plan take, one after the other.
func MachineTime(p *printing.Plan) (low, high time.Duration) {
	for _, plate := range p.Plates {
		low += plate.Takes.Low
		high += plate.Takes.High
	}
	return low, high
}

// printFindings: what fits a printer at one scale only, and what fits in a plainer way.
func (r *Report) printFindings() []plan.Finding {
	if r.Prints == nil {
		return []plan.Finding{finding(plan.Printing, plan.Note, "the kit names no printers, so nothing is said of what fits one and how long it takes; add printers, see dryfit schema --reference")}
	}
	var list []plan.Finding
	var never, again, harder []string
	for i, now := range r.Prints.Now.Parts {
		was := r.Prints.Was.Parts[i]
		switch {
		case !now.Fits() && was.Fits():
			list = append(list, r.noLongerFits(now))
		case !now.Fits():
			never = append(never, now.Of.ID)
		case !was.Fits():
			again = append(again, now.Of.ID)
		case now.Setting.Fit.Way != was.Setting.Fit.Way && r.Scaling.Factor > 1:
			harder = append(harder, fmt.Sprintf("%s (%s)", now.Of.ID, now.Setting.Fit.Way))
		}
	}
	if len(never) > 0 {
		list = append(list, finding(plan.Printing, plan.Caution, fmt.Sprintf("fits no printer at either scale: %s; see dryfit printing", some(never))))
	}
	if len(again) > 0 {
		list = append(list, finding(plan.Printing, plan.Note, fmt.Sprintf("fits a printer now, and none before: %s", some(again))))
	}
	if len(harder) > 0 {
		list = append(list, finding(plan.Printing, plan.Note, fmt.Sprintf("fits only turned or tilted at %s: %s", r.Scaling, some(harder))))
	}
	if m := r.Prints.Missing; len(m) > 0 {
		var ids []string
		for _, p := range m {
			ids = append(ids, p.ID)
		}
		list = append(list, finding(plan.Printing, plan.Caution, fmt.Sprintf("neither mesh nor size, so nothing is said of its printing: %s", some(ids))))
	}
	return list
}

var sides = [3]string{"width", "depth", "height"}

// noLongerFits says by how much a part sticks out of the printer that comes nearest.
func (r *Report) noLongerFits(p *printing.Planned) plan.Finding {
	nearest := -1
	for k := range r.Kit.Printers {
		if p.Tried[k] && (nearest < 0 || largest(p.On[k].Over) < largest(p.On[nearest].Over)) {
			nearest = k
		}
	}
	f := finding(plan.Printing, plan.Fault, fmt.Sprintf("%s fits a printer now and none at %s", p.Of.Label(), r.Scaling))
	f.Piece = p.Of.ID
	f.Because = []plan.Reason{{Text: fmt.Sprintf("it is %s there", r.mm(r.sizeOf(p.Of)...)), At: p.Of.Pos.String()}}
	if nearest >= 0 {
		var over []string
		for k, v := range p.On[nearest].Over {
			if v > 0 {
				over = append(over, fmt.Sprintf("%s along its %s", r.mm(v), sides[k]))
			}
		}
		printer := r.Kit.Printers[nearest]
		f.Because = append(f.Because, plan.Reason{Text: fmt.Sprintf("%s, %s, comes nearest: it sticks out by %s, however it is turned or tilted", printer.ID, r.mm(printer.Volume[:]...), strings.Join(over, " and ")), At: printer.Pos.String()})
	}
	f.Repairs = []plan.Repair{{Text: "split it"}, {Text: "have it printed elsewhere"}, {Text: "choose a smaller scale"}}
	return f
}

func largest(v [3]float64) float64 { return max(v[0], v[1], v[2]) }

// sizeOf is that of a part at the new scale.
func (r *Report) sizeOf(p *kits.Part) []float64 {
	for _, part := range r.Parts {
		if part.Of == p && part.Now != [3]float64{} {
			return part.Now[:]
		}
	}
	return p.Size.XYZ[:] // it was planned by its size
}
