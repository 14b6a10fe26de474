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

// New derives the constraints of a kit and solves them, with what has been measured of
// the pieces, which may be nil: the ways in that the meshes leave join those that the kit
// states. The project has no findings yet and no sequence. The only error is
// [ErrTooLarge].
func New(k *kits.Kit, g *Geometry) (*Project, error) {
	c := derive(k, g, Change{})
	if c.tooLarge() {
		return nil, ErrTooLarge
	}
	return &Project{Kit: k, Constraints: c, Solution: c.Solve()}, nil
}

// Arrange puts the steps of a solved kit in the order that a person would want.
func (r *Project) Arrange() { r.Sequence = r.Solution.sequence() }

// Add puts findings among those of the project, and sorts them.
func (r *Project) Add(list ...Finding) {
	r.Findings = append(r.Findings, list...)
	SortFindings(r.Findings)
}
