// Package compare tells two revisions of a kit apart, for the designer who made the
// second and for the builder who has begun with the first: parts, joins and all else that
// the files say, the steps that moved, findings that came and went, and which prints stay
// good.
//
// Parts are the same when their ids are, or, under another id, when their meshes are or,
// without meshes, their numbers. What is compared of a kit is what it means, resolved and
// in mm, not how it is written.
package compare

import (
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// side is one of the two revisions.
type side struct{ *plan.Project }

// mesh is that of a piece; nil if it has none.
func (s side) mesh(piece int) *mesh.Mesh { return s.Meshes.Mesh(s.Kit.Pieces[piece].ID) }

// Comparison is all that differs. Parts and pieces go by their ids in the new revision,
// or in the old one if only that has them.
type Comparison struct {
	Renamed  []Renamed
	Changes  []Change // of the kit, its fixings, parts, joins, spaces, wires, tasks and services
	Steps    Steps
	Prints   []Print // of all printed pieces, those of the new revision first
	Findings struct{ New, Gone []plan.Finding }
}

// Renamed is a part that has another id in the new revision.
type Renamed struct {
	Old, New string
	By       string // how it was known again: mesh or number
}

// OK reports whether the new revision has no fault that the old one had not.
func (c *Comparison) OK() bool {
	for _, f := range c.Findings.New {
		if f.Grade == plan.Fault {
			return false
		}
	}
	return true
}

// Same reports whether nothing differs.
func (c *Comparison) Same() bool {
	for _, p := range c.Prints {
		if p.Verdict != Good && p.Verdict != Untold {
			return false
		}
	}
	return len(c.Renamed)+len(c.Changes)+len(c.Findings.New)+len(c.Findings.Gone)+
		len(c.Steps.Added)+len(c.Steps.Gone)+len(c.Steps.Moved) == 0
}

// Compare compares two revisions. The error is one of reading a mesh again.
func Compare(old, new *plan.Project) (*Comparison, error) {
	before, after := side{old}, side{new}
	p, err := pairUp(before, after)
	if err != nil {
		return nil, err
	}
	c := &Comparison{Renamed: p.renamed}
	was, is := describe(before.Kit, p.newID), describe(after.Kit, nil)
	c.Changes = diff(was, is)
	c.Steps = steps(before, after, p)
	if c.Prints, err = p.prints(); err != nil {
		return nil, err
	}
	c.Findings.New, c.Findings.Gone = findings(old, new, p)
	return c, nil
}
