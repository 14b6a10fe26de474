package compare

import (
	"errors"

	"dryfit/kits"
	"dryfit/kits/mesh"
)

// pairs knows which parts and pieces of the two revisions are the same.
type pairs struct {
	before, after side
	renamed       []Renamed
	newID         map[string]string     // old id -> new id, where they differ
	old           map[string]*kits.Part // new id -> the part before
	oldPiece      []int                 // new piece -> the piece before, -1 for none
	unneeded      []int                 // old pieces that no new piece is
	err           error                 // of reading meshes
}

func pairUp(before, after side) (*pairs, error) {
	p := &pairs{before: before, after: after, newID: map[string]string{}, old: map[string]*kits.Part{}}
	for _, o := range before.Kit.Parts {
		p.old[o.ID] = o
	}
	var added []*kits.Part
	kept := map[string]bool{}
	for _, n := range after.Kit.Parts {
		if p.old[n.ID] == nil {
			added = append(added, n)
		}
		kept[n.ID] = true
	}
	var gone []*kits.Part
	for _, o := range before.Kit.Parts {
		if !kept[o.ID] {
			gone = append(gone, o)
			delete(p.old, o.ID)
		}
	}
	added, gone = p.rename(added, gone, "mesh", p.sameMeshes)
	p.rename(added, gone, "number", func(o, n *kits.Part) bool { return o.Number != "" && o.Number == n.Number })
	p.pairPieces()
	return p, p.err
}

// rename pairs parts that only one revision has, each once, and returns those that are
// left.
func (p *pairs) rename(added, gone []*kits.Part, by string, same func(o, n *kits.Part) bool) (left, leftGone []*kits.Part) {
	taken := map[*kits.Part]bool{}
	for _, n := range added {
		var found *kits.Part
		for _, o := range gone {
			if !taken[o] && same(o, n) {
				found = o
				break
			}
		}
		if found == nil {
			left = append(left, n)
			continue
		}
		taken[found] = true
		p.newID[found.ID], p.old[n.ID] = n.ID, found
		p.renamed = append(p.renamed, Renamed{found.ID, n.ID, by})
	}
	for _, o := range gone {
		if !taken[o] {
			leftGone = append(leftGone, o)
		}
	}
	return left, leftGone
}

// sameMeshes reports whether all copies of two parts have the same meshes where they
// stand.
func (p *pairs) sameMeshes(o, n *kits.Part) bool {
	was, is := p.before.Kit.Copies(o), p.after.Kit.Copies(n)
	if len(was) != len(is) || len(was) == 0 {
		return false
	}
	for i := range was {
		a, b := p.before.mesh(was[i]), p.after.mesh(is[i])
		if a == nil || b == nil || a.Len() != b.Len() || !sameCorner(corner(a.Min), corner(b.Min), [3]float64{}) {
			return false
		}
		one, err := judge(a, b)
		if p.err = errors.Join(p.err, err); one.Verdict != Good {
			return false
		}
	}
	return true
}

func corner(p [3]float64) [3]float32 {
	return [3]float32{float32(p[0]), float32(p[1]), float32(p[2])}
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

// meshes are those of a piece in both revisions.
func (p *pairs) meshes(piece int) (was, is *mesh.Mesh) {
	return p.before.mesh(p.oldPiece[piece]), p.after.mesh(piece)
}
