package rescale

import (
	"context"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// Request is a kit as it is and as it shall be.
type Request struct {
	Was     *plan.Project // of the kit as it is
	Kit     *kits.Kit     // the same at the new scale
	Scaling kits.Scaling
	// Progress, if not nil, is told what is being done and how far it is, 0 to 1.
	Progress func(what string, share float64)
}

// Report is what becomes of a kit at another scale.
type Report struct {
	Request
	Parts      []*Part       // in the sequence of the kit
	Model      *[3]float64   // size of the finished model, without what keeps its size; nil if not known
	Seats      []Seat        // rooms of pieces of fixed size
	Clearances []Clearance   // of what is taken off the finished model
	Leads      []Lead        // wires and the holes they are threaded through
	Prints     *Prints       // nil without printers
	Now        *plan.Project // of the kit at the new scale
	Findings   []plan.Finding
}

// Part is a part at both scales. Sizes are 0 where nothing tells them.
type Part struct {
	Of       *kits.Part // at the new scale
	Was, Now [3]float64 // along the model's axes
	Measured bool       // by its mesh
	Volume   float64    // of one piece at the new scale, mm3; 0 if not known
	AtMost   bool       // the volume is that of the box around it
	Mass     float64    // of one piece at the new scale, g; 0 if not known
	Wall     *Wall      // nil if not printed or not measured
}

// OK reports that nothing breaks that must be mended.
func (r *Report) OK() bool {
	for _, f := range r.Findings {
		if f.Grade == plan.Fault {
			return false
		}
	}
	return true
}

// Make looks at everything. The error is one of reading a mesh, that of the context, or
// says that the kit is too large.
func Make(ctx context.Context, q Request) (*Report, error) {
	r := &Report{Request: q}
	var err error
	if r.Now, err = check(q); err != nil {
		return nil, err
	}
	r.parts()
	r.tell("looking at what does not scale", 0)
	rooms, err := r.rooms(ctx)
	if err != nil {
		return nil, err
	}
	r.Seats, r.Clearances = r.seats(rooms), r.clearances(rooms)
	r.Leads = r.leads()
	if err := r.prints(ctx); err != nil {
		return nil, err
	}
	for _, list := range [][]plan.Finding{
		r.orderFindings(), r.printFindings(), r.wallFindings(), r.seatFindings(), r.sizeFindings(),
		r.leadFindings(), r.clearanceFindings(), r.textFindings(),
	} {
		r.Findings = append(r.Findings, list...)
	}
	byGrade(r.Findings)
	return r, nil
}

func (r *Report) tell(what string, share float64) {
	if r.Progress != nil {
		r.Progress(what, share)
	}
}

// scales reports whether a piece is larger or smaller at the new scale.
func (r *Report) scales(piece int) bool { return !r.Kit.Pieces[piece].Part.FixedSize }

// mesh is that of a piece at the old scale; nil if it has none.
func (r *Report) mesh(piece int) *mesh.Mesh {
	return r.Was.Meshes.Mesh(r.Kit.Pieces[piece].ID)
}
