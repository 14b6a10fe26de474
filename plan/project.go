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
	Progress    *progress.File   // nil unless asked for
}

// Mesh is the mesh of a piece; nil if it has none.
func (r *Project) Mesh(piece int) *mesh.Mesh { return r.Meshes.Mesh(r.Kit.Pieces[piece].ID) }

// PrintedFrom is the copy of a part whose mesh the part is printed from: the first that has
// one, since copies have one shape; empty if none has.
func (r *Project) PrintedFrom(p *kits.Part) (id string) {
	for c := range p.Quantity {
		if id := p.CopyID(c + 1); r.Meshes.Mesh(id) != nil {
			return id
		}
	}
	return ""
}

// PrintedMesh is the mesh that a part is printed from; nil if it has none.
func (r *Project) PrintedMesh(p *kits.Part) *mesh.Mesh { return r.Meshes.Mesh(r.PrintedFrom(p)) }

// OK reports whether the kit has no fault.
func (r *Project) OK() bool {
	return r.Count(Fault) == 0
}

// Count counts the findings of a grade.
func (r *Project) Count(g Grade) int { return CountOf(r.Findings, g) }

// New derives the constraints of a kit and solves them. The measured geometry,
// which may be nil, adds the ways in that the meshes allow to those that the kit
// states. The project has no findings and no sequence yet. The only error is
// [ErrTooLarge].
func New(k *kits.Kit, g *Geometry) (*Project, error) {
	c := derive(k, g, Change{})
	if c.tooLarge() {
		return nil, ErrTooLarge
	}
	return &Project{Kit: k, Constraints: c, Solution: c.Solve()}, nil
}

// Arrange puts the steps of a solved kit in the order that a person would choose.
func (r *Project) Arrange() { r.Sequence = r.Solution.sequence() }

// Add adds findings to those of the project, and sorts them.
func (r *Project) Add(list ...Finding) {
	r.Findings = append(r.Findings, list...)
	SortFindings(r.Findings)
}
