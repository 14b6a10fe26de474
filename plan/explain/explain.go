// Package explain says what is wrong with a kit and what would fix it.
//
//	project, solved -> what is unreachable, blocked, loose, or out of reach for service
//	                -> roots of what is stuck, each with its smallest conflict as a chain of reasons
//	                -> single changes, each tried by solving again: repairs
//	                -> why: the place of a step, its reasons, ways in, and last calls
//
// Check makes a project: it derives and solves the constraints, adds what is
// wrong and, if nothing is, arranges the steps. The kit is never changed; a
// repair is tried by deriving the constraints again with one change.
package explain

import (
	"dryfit/kits"
	"dryfit/plan"
)

// Check finds out whether a kit can be built and what is wrong with it, and
// computes the order that a person would choose if there is one. The only error
// is [plan.ErrTooLarge].
func Check(k *kits.Kit) (*plan.Project, error) { return CheckMeasured(k, nil) }

// CheckMeasured is Check with the measured geometry, which may be nil. It adds
// the ways in that the meshes allow to those that the kit states.
func CheckMeasured(k *kits.Kit, g *plan.Geometry) (*plan.Project, error) {
	p, err := plan.New(k, g)
	if err != nil {
		return nil, err
	}
	e := &explainer{Constraints: p.Constraints}
	solved := &outcome{p.Solution, e}
	list := e.looseFindings()
	list = append(list, e.unreachableFindings()...)
	list = append(list, e.wireFindings()...)
	list = append(list, e.blockedFindings()...)
	list = append(list, solved.stuckFindings()...)
	list = append(list, e.measuredFindings()...)
	list = append(list, e.serviceFindings()...)
	list = append(list, e.uncheckedFindings()...)
	if plan.CountOf(list, plan.Fault) == 0 {
		p.Arrange()
		q := &order{p.Sequence, e}
		list = append(list, q.wayFindings()...)
		list = append(list, q.plannedFindings()...)
		list = append(list, solved.fragileFindings()...)
	}
	if e.cutShort {
		list = append(list, plan.NewFinding(plan.Untried, plan.Note, "too many findings: repairs were searched for the first ones only; fix those and check again"))
	}
	p.Add(plan.MergeCopies(list)...)
	return p, nil
}

// explainer explains the constraints of a kit and their solution.
type explainer struct {
	*plan.Constraints
	spent    int               // work of the repairs tried
	cutShort bool              // some repairs were not tried because the work limit was reached
	undone   map[int][]bool    // see openUp
	tried    *plan.Constraints // with the last change
}

// with is the explainer of the kit with one change.
func (r *explainer) with(c plan.Change) *explainer {
	r.tried = r.With(c)
	return &explainer{Constraints: r.tried}
}

// outcome is a solution to explain.
type outcome struct {
	*plan.Solution
	*explainer
}

// order is a sequence to explain.
type order struct {
	*plan.Sequence
	*explainer
}

// effort ranks repairs by how much they ask of the designer.
type effort int

const (
	sayLess   effort = iota + 1 // drop or change a word of the file
	bench                       // build in another place
	paint                       // paint at another time
	open                        // another fixing
	enlarge                     // change the shape of an opening or a part
	elsewhere                   // change what a part is fixed to
)
