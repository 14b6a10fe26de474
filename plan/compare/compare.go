// Package compare compares two revisions of a kit, for the designer who made the
// second and for the builder who has started on the first: parts, joins and
// everything else in the files, steps that moved, findings that appeared or went,
// and which prints can still be used.
//
// Parts match by id or, if the id changed, by mesh or, without meshes, by number.
// The comparison covers what a kit means, resolved and in mm, not how it is
// written.
package compare

import "dryfit/plan"

// Comparison lists all differences. Parts and pieces are named by their ids in
// the new revision, or in the old one if only that has them.
type Comparison struct {
	Renamed  []Renamed
	Changes  []Change // of the entries of the kit
	Steps    Steps
	Prints   []Print // of all printed pieces, those of the new revision first
	Findings struct{ New, Gone []plan.Finding }
}

// Renamed is a part that has another id in the new revision.
type Renamed struct {
	Old, New string
	By       string // how it was recognised: mesh or number
}

// OK reports whether the new revision has no fault that the old one did not have.
func (c *Comparison) OK() bool { return plan.CountOf(c.Findings.New, plan.Fault) == 0 }

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

// Compare compares two revisions. The error comes from reading a mesh again.
func Compare(before, after *plan.Project) (*Comparison, error) {
	p, err := pairUp(before, after)
	if err != nil {
		return nil, err
	}
	c := &Comparison{Renamed: p.renamed, Steps: steps(p)}
	c.Changes = diff(describe(before.Kit, p.newID), describe(after.Kit, nil))
	c.Findings.New, c.Findings.Gone = findings(p)
	c.Prints, err = p.prints()
	return c, err
}
