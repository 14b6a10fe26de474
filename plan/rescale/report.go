// Package rescale finds out what becomes of a kit at another scale: what no longer fits a
// printer, what becomes too thin, what is bought for its size and no longer suits its
// place, and whether the order still holds.
//
// Lengths are mm. Everything printed scales about the origin of the model; parts of
// fixed size keep their size and stay on what they rest on, see [Move]. The same request
// gives the same report.
//
// Not examined: whether a piece of fixed size leaves its pocket by the mouth that
// nothing covers, the blocking of pieces by others of fixed size beyond the rooms
// measured (see [Seat]), places and volumes that a kit mentions in notes, and strength.
package rescale

import (
	"context"
	"errors"
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/rehearse"
)

// Kinds of findings, beside those of a check.
const (
	Walls      = "wall"      // too thin to print
	Seating    = "seat"      // what keeps its size no longer suits its place
	Clearances = "clearance" // what moves binds, or sits loose
	Texts      = "text"      // words and numbers that are not scaled
	Present    = "present"   // what is wrong at the present scale already
)

// Request is a kit as it is and as it shall be.
type Request struct {
	Was     *plan.Project // of the kit as it is
	Kit     *kits.Kit     // the same at the new scale
	Scaling kits.Scaling
	// Progress, if not nil, is called with what is being done and how far it is, 0 to 1.
	Progress func(what string, share float64)
}

// Report is what becomes of a kit at another scale.
type Report struct {
	Request
	Parts      []*Part       // in the order of the kit
	Model      *geom.Vec     // size of the finished model, without what keeps its size; nil if not known
	Seats      []Seat        // rooms of pieces of fixed size
	Clearances []Clearance   // of what is taken off the finished model
	Leads      []Lead        // wires and the holes they are threaded through
	Prints     *Prints       // nil without printers
	Ballast    *Ballast      // nil if the kit has none
	Now        *plan.Project // of the kit at the new scale
	Findings   []plan.Finding

	moves map[string]geom.Vec // by the ids of what keeps its size, tooling and spares too
}

// Part is a part at both scales. Sizes are 0 where they are not known.
type Part struct {
	Of       *kits.Part // at the new scale
	Was, Now geom.Vec   // along the model's axes
	Measured bool       // by its mesh
	Volume   float64    // of one piece at the new scale, mm3; 0 if not known
	AtMost   bool       // the volume is that of the box around it
	Mass     float64    // of one piece at the new scale, g; 0 if not known
	WasMass  float64    // and at the present one
	Wall     *Wall      // nil if not printed or not measured

	was, now float64 // mm3 that are printed of one piece
}

// OK reports that nothing breaks that must be fixed.
func (r *Report) OK() bool { return plan.CountOf(r.Findings, plan.Fault) == 0 }

// Make makes the whole report. The error is one of reading a mesh, that of the context,
// or says that the kit is too large or was loaded without its walls.
func Make(ctx context.Context, q Request) (*Report, error) {
	if m := q.Was.Meshes; m != nil && slices.ContainsFunc(m.Health, func(h *mesh.Health) bool { return h != nil && !h.Walls }) {
		return nil, errors.New("walls were not measured; load the kit with them")
	}
	q.Kit = unweighed(q.Kit, q.Scaling)
	r := &Report{Request: q}
	r.progress("examining what does not scale", 0)
	probes, err := r.probes(ctx)
	if err == nil {
		err = r.move(probes)
	}
	if err == nil {
		r.Now, err = r.check(ctx)
	}
	if err != nil {
		return nil, err
	}
	rehearse.Confirm(r.Now)
	r.parts()
	r.Seats, r.Clearances = r.seats(probes), r.clearances(probes)
	r.Leads, r.Ballast = r.leads(), r.ballast()
	if err := r.prints(ctx); err != nil {
		return nil, err
	}
	r.Findings = slices.Concat(r.orderFindings(), r.printFindings(), r.wallFindings(), r.seatFindings(), r.sizeFindings(),
		r.leadFindings(), r.clearanceFindings(), r.textFindings())
	slices.SortStableFunc(r.Findings, plan.ByGrade)
	return r, nil
}

func (r *Report) progress(what string, share float64) {
	if r.Progress != nil {
		r.Progress(what, share)
	}
}

// scales reports whether a piece is larger or smaller at the new scale.
func (r *Report) scales(piece int) bool { return !r.Kit.Pieces[piece].Part.FixedSize }

// mm writes lengths in the unit of the kit: 62 x 38 mm.
func (r *Report) mm(sides ...float64) string { return r.Kit.Unit.Lengths(sides...) }

// maxNames bounds how many names stand in one sentence.
const maxNames = 12

func some(names []string) string { return english.And(names, maxNames) }

// maxLines bounds how many reasons one finding lists.
const maxLines = 12

// more shortens a list of reasons.
func more(list []plan.Reason) []plan.Reason {
	if n := len(list) - maxLines; n > 0 {
		return append(list[:maxLines:maxLines], plan.Reason{Text: fmt.Sprintf("and %d more", n)})
	}
	return list
}
