package rescale

import (
	"context"
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/project"
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
		made, missing, err := project.Printing(ctx, of.rep, func(q *printing.Request) {
			q.Progress = func(share float64) { r.progress("planning the printing", (float64(i)+share)/2) }
		}, nil)
		if err != nil {
			return err
		}
		made.ForgetOutlines()
		*of.plan, out.Missing = made, missing
	}
	r.Prints = out
	return nil
}

// MachineTime is what all plates of a plan take, one after the other.
func MachineTime(p *printing.Plan) (t printing.Band) {
	for _, plate := range p.Plates {
		t = t.Plus(plate.Takes)
	}
	return t
}

// printFindings: what fits a printer at one scale only, and what has to be turned or
// tilted to fit.
func (r *Report) printFindings() []plan.Finding {
	if r.Prints == nil {
		return []plan.Finding{plan.NewFinding(plan.Printing, plan.Note, "the kit names no printers, so what fits one and how long it takes is not known; add printers, see dryfit schema --reference")}
	}
	var list []plan.Finding
	var never, again, harder []string
	moved := plan.NewFinding(plan.Printing, plan.Caution, "")
	for i, now := range r.Prints.Now.Parts {
		was := r.Prints.Was.Parts[i]
		switch {
		case !now.Fits() && was.Fits():
			list = append(list, r.noLongerFits(now))
		case !now.Fits():
			never = append(never, now.Of.ID)
		case !was.Fits():
			again = append(again, now.Of.ID)
		case r.tooLargeFor(was.Printer, now):
			moved = moved.Since(fmt.Sprintf("%s fits %s now; at %s it needs %s", now.Of.ID, was.Printer.ID, r.Scaling, now.Printer.ID), now.Of.Pos)
			moved.Pieces = append(moved.Pieces, now.Of.ID)
		case now.Setting.Fit.Way != was.Setting.Fit.Way && r.Scaling.Factor > 1:
			harder = append(harder, fmt.Sprintf("%s (%s)", now.Of.ID, now.Setting.Fit.Way))
		}
	}
	if n := len(moved.Pieces); n > 0 {
		moved.Text = fmt.Sprintf("%s the printer that prints %s now, and %s another at %s", english.Count(n, "part no longer fits", "parts no longer fit"), english.Plural(n, "it", "them"), english.Plural(n, "needs", "need"), r.Scaling)
		moved.Piece, moved.Because = moved.Pieces[0], more(moved.Because)
		list = append(list, moved)
	}
	list = append(list, r.Prints.Now.Worse(r.Prints.Was)...)
	say := func(g plan.Grade, format string, ids []string) {
		if len(ids) > 0 {
			list = append(list, plan.NewFinding(plan.Printing, g, fmt.Sprintf(format, some(ids))))
		}
	}
	say(plan.Caution, "fits no printer at either scale: %s; see dryfit printing", never)
	say(plan.Note, "fits a printer at "+r.Scaling.String()+", and none at the present scale: %s", again)
	say(plan.Note, "fits only turned or tilted at "+r.Scaling.String()+": %s", harder)
	say(plan.Caution, "neither mesh nor size, so its printing is not planned: %s", kits.PartIDs(r.Prints.Missing))
	return list
}

var sides = [3]string{"width", "depth", "height"}

// noLongerFits says by how much a part sticks out of the printer that comes nearest.
func (r *Report) noLongerFits(p *printing.Planned) plan.Finding {
	over := func(k int) float64 { return slices.Max(p.On[k].Over[:]) }
	nearest := -1
	for k := range r.Kit.Printers {
		if p.Tried[k] && (nearest < 0 || over(k) < over(nearest)) {
			nearest = k
		}
	}
	f := plan.NewFinding(plan.Printing, plan.Fault, fmt.Sprintf("%s fits a printer now and none at %s", p.Of.Label(), r.Scaling)).About(p.Of.ID).
		Since(fmt.Sprintf("it is %s there", r.mm(r.sizeOf(p.Of)...)), p.Of.Pos)
	if nearest >= 0 {
		var list []string
		for k, v := range p.On[nearest].Over {
			if v > 0 {
				list = append(list, fmt.Sprintf("%s along its %s", r.mm(v), sides[k]))
			}
		}
		printer := r.Kit.Printers[nearest]
		f = f.Since(fmt.Sprintf("%s, %s, comes nearest: it sticks out by %s, turned or tilted in any way", printer.ID, r.mm(printer.Volume[:]...), english.And(list, 3)), printer.Pos)
	}
	return f.Suggest("split it", "have it printed elsewhere", "choose a smaller scale")
}

// sizeOf is that of a part at the new scale.
func (r *Report) sizeOf(p *kits.Part) []float64 {
	i := slices.IndexFunc(r.Parts, func(part *Part) bool { return part.Of == p })
	return r.Parts[i].Now[:]
}

// tooLargeFor reports whether a part at the new scale is too large for the printer that
// prints it now.
func (r *Report) tooLargeFor(p *kits.Printer, now *printing.Planned) bool {
	k := slices.IndexFunc(r.Kit.Printers, func(o *kits.Printer) bool { return o.ID == p.ID })
	return now.Tried[k] && now.On[k].Way == printing.TooLarge
}

// Share is what one printer prints of a plan, on how many plates and for how long, one
// plate after the other; the mass is that of the pieces and their supports.
type Share struct {
	Printer *kits.Printer
	Plates  int
	Takes   printing.Band
	Mass    float64 // g
	AtMost  bool
}

// Shares lists the printers with what they print of a plan.
func Shares(printers []*kits.Printer, p *printing.Plan) []Share {
	list := make([]Share, len(printers))
	for k, printer := range printers {
		list[k].Printer = printer
		for _, plate := range p.Plates {
			if plate.Printer.ID == printer.ID {
				g, most := plate.Mass()
				list[k].Plates++
				list[k].Takes = list[k].Takes.Plus(plate.Takes)
				list[k].Mass += g
				list[k].AtMost = list[k].AtMost || most
			}
		}
	}
	return list
}

// Supports is what the supports of a plan weigh, in g.
func Supports(p *printing.Plan) (g float64) {
	for _, part := range p.Parts {
		g += part.Support * float64(len(part.Pieces))
	}
	return g
}
