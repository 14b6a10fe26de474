package plan

import (
	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/progress"
)

// Project is all that is known of a kit: the one thing that commands, documents and
// pages read.
type Project struct {
	Kit         *kits.Kit
	Constraints *Constraints
	Solution    *Solution
	Sequence    *Sequence        // nil when no proven order exists
	Findings    []Finding        // faults first
	Meshes      *mesh.Collection // nil for a kit without meshes
	Progress    *progress.File   // nil if nobody asked for it
}

// Mesh is that of a piece; nil if it has none.
func (r *Project) Mesh(piece int) *mesh.Mesh { return r.Meshes.Mesh(r.Kit.Pieces[piece].ID) }

// OK reports whether the kit has no fault.
func (r *Project) OK() bool {
	return r.Count(Fault) == 0
}

// Count is how many findings of a grade there are.
func (r *Project) Count(g Grade) int { return CountOf(r.Findings, g) }

// Check finds out whether a kit can be built and what is wrong with it, and
// computes the order a person would want when there is one. The only error is
// [ErrTooLarge].
func Check(k *kits.Kit) (*Project, error) { return CheckMeasured(k, nil) }

// CheckMeasured is Check with what has been measured of the pieces, which may be
// nil: the ways in that the meshes leave join those that the kit states.
func CheckMeasured(k *kits.Kit, g *Geometry) (*Project, error) {
	rules := derive(k, g, change{})
	if rules.tooLarge() {
		return nil, ErrTooLarge
	}
	s := rules.Solve()
	rep := &Project{Kit: k, Constraints: rules, Solution: s}
	rep.add(rules.looseFindings()...)
	rep.add(rules.unreachableFindings()...)
	rep.add(rules.wireFindings()...)
	rep.add(rules.blockedFindings()...)
	rep.add(s.stuckFindings()...)
	rep.add(rules.measuredFindings()...)
	rep.add(rules.serviceFindings()...)
	rep.add(rules.uncheckedFindings()...)
	if rep.OK() {
		rep.Sequence = s.sequence()
		rep.add(rep.Sequence.wayFindings()...)
		rep.add(rep.Sequence.plannedFindings()...)
		rep.add(s.fragileFindings()...)
	}
	if rules.cutShort {
		rep.add(Finding{Kind: Untried, Grade: Note, Text: "there are so many findings that repairs were looked for only for the first of them; mend those and check again"})
	}
	rep.Findings = mergeCopies(rep.Findings)
	sortFindings(rep.Findings)
	return rep, nil
}

// Add puts findings of other packages among those of a report.
func (r *Project) Add(list ...Finding) {
	r.add(list...)
	sortFindings(r.Findings)
}

func (r *Project) add(list ...Finding) { r.Findings = append(r.Findings, list...) }
