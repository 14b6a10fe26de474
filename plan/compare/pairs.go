package compare

import (
	"errors"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// newIDs has the new id of each part whose id changed.
type newIDs map[string]string

// of is the id of a part, or of a copy of one, in the new revision.
func (n newIDs) of(id string) string {
	part, copyNo, one := strings.Cut(id, ".")
	if now, renamed := n[part]; renamed {
		part = now
	}
	if one {
		return part + "." + copyNo
	}
	return part
}

// pairs knows which parts and pieces of the two revisions are the same.
type pairs struct {
	before, after *plan.Project
	renamed       []Renamed
	newID         newIDs
	old           map[string]*kits.Part // new id -> the part before
	oldPiece      []int                 // new piece -> the piece before, -1 for none
	unneeded      []int                 // old pieces without a new one
	oldStep       map[int]int           // new step -> the step before
	newStep       []int                 // old step -> the step after, -2 for none
	err           error                 // of reading meshes
}

func pairUp(before, after *plan.Project) (*pairs, error) {
	p := &pairs{before: before, after: after, newID: newIDs{}, old: map[string]*kits.Part{}}
	for _, o := range before.Kit.Parts {
		p.old[o.ID] = o
	}
	var added, gone []*kits.Part
	kept := map[string]bool{}
	for _, n := range after.Kit.Parts {
		if kept[n.ID] = true; p.old[n.ID] == nil {
			added = append(added, n)
		}
	}
	for _, o := range before.Kit.Parts {
		if !kept[o.ID] {
			gone = append(gone, o)
			delete(p.old, o.ID)
		}
	}
	added, gone = p.rename(added, gone, "mesh", p.sameMeshes)
	p.rename(added, gone, "number", func(o, n *kits.Part) bool { return o.Number != "" && o.Number == n.Number })
	p.pairPieces()
	p.pairSteps()
	return p, p.err
}

// rename pairs parts that only one revision has, each once, and returns the rest.
func (p *pairs) rename(added, gone []*kits.Part, by string, same func(o, n *kits.Part) bool) (left, leftGone []*kits.Part) {
	gone = slices.Clone(gone)
	for _, n := range added {
		i := slices.IndexFunc(gone, func(o *kits.Part) bool { return same(o, n) })
		if i < 0 {
			left = append(left, n)
			continue
		}
		o := gone[i]
		gone = slices.Delete(gone, i, i+1)
		p.newID[o.ID], p.old[n.ID] = n.ID, o
		p.renamed = append(p.renamed, Renamed{o.ID, n.ID, by})
	}
	return left, gone
}

// sameMeshes reports whether all copies of two parts have the same meshes in the
// same positions.
func (p *pairs) sameMeshes(o, n *kits.Part) bool {
	was, is := p.before.Kit.Copies(o), p.after.Kit.Copies(n)
	if len(was) != len(is) || len(was) == 0 {
		return false
	}
	for i := range was {
		a, b := p.before.Mesh(was[i]), p.after.Mesh(is[i])
		if a == nil || b == nil || a.Len() != b.Len() || !sameCorner(a.Min.Single(), b.Min.Single(), geom.Vec{}) {
			return false
		}
		one, err := judge(a, b)
		if p.err = errors.Join(p.err, err); one.Verdict != Good {
			return false
		}
	}
	return true
}

// pairPieces pairs the copies of parts by their numbers.
func (p *pairs) pairPieces() {
	p.oldPiece = make([]int, len(p.after.Kit.Pieces))
	taken := make([]bool, len(p.before.Kit.Pieces))
	for i, pc := range p.after.Kit.Pieces {
		p.oldPiece[i] = -1
		o := p.old[pc.Part.ID]
		if o == nil {
			continue
		}
		if copies := p.before.Kit.Copies(o); pc.Copy <= len(copies) {
			p.oldPiece[i] = copies[pc.Copy-1]
			taken[copies[pc.Copy-1]] = true
		}
	}
	for i, is := range taken {
		if !is {
			p.unneeded = append(p.unneeded, i)
		}
	}
}
