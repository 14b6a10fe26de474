package printing

import (
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// Ask makes the request for a kit: everything that is still to be printed, each piece
// with the first step that needs it. Parts of which all is printed have no pieces. Parts
// with neither mesh nor size count as missing. The error says that the kit has too many
// pieces.
func Ask(rep *plan.Project) (r Request, missing []*kits.Part, err error) {
	k := rep.Kit
	r.Printers, r.Materials = k.Printers, k.Materials
	aside, err := k.Aside()
	if err != nil {
		return r, nil, err
	}
	first := firstNeeds(rep)
	printed := done(k, rep.Progress)
	r.Kept, r.First = keptPlates(rep.Progress, printed), firstNumber(rep.Progress)
	pieces := map[*kits.Part][]Piece{}
	add := func(pc kits.Piece, need int) {
		if printed[pc.ID] {
			r.Printed++
		} else {
			pieces[pc.Part] = append(pieces[pc.Part], Piece{pc.ID, need, pc.Copy == 0})
		}
	}
	for i, pc := range k.Pieces {
		if pc.Part.ToPrint() {
			add(pc, first[i])
		}
	}
	for _, pc := range aside {
		add(pc, NoStep)
	}
	for _, p := range k.Parts {
		part := &Part{Of: p, Pieces: pieces[p], Open: 1 - k.FillOf(p)}
		switch {
		case !p.ToPrint():
		case part.shape(rep):
			r.Parts = append(r.Parts, part)
		case len(part.Pieces) > 0:
			missing = append(missing, p)
		}
	}
	return r, missing, nil
}

// shape gives the part the surface that it is printed from.
func (p *Part) shape(rep *plan.Project) bool {
	m := rep.PrintedMesh(p.Of)
	if m == nil {
		if p.Of.Size != nil {
			m = box(p.Of.ID, p.Of.Size.XYZ)
			p.Surface, p.Shape, p.BySize = m, m.Shape, true
		}
		return m != nil
	}
	p.planned = rep.PrintedFrom(p.Of)
	p.Surface, p.Shape, p.Hollows = m, m.Shape, rep.Meshes.Hollows(p.planned)
	for c := range p.Of.Quantity {
		if m := rep.Meshes.Mesh(p.Of.CopyID(c + 1)); m != nil && (unlike(m.Volume, p.Shape.Volume) || unlike(m.Area, p.Shape.Area)) {
			p.Differ = true
		}
	}
	return true
}

// unlike reports whether a measure of two copies, which stays the same however they are
// turned, shows that they differ. Mirrored copies are not told apart.
func unlike(a, b float64) bool { return math.Abs(a-b) > copiesDiffer*b }

// box is a solid box of the given size.
func box(name string, size geom.Vec) *mesh.Mesh {
	corner := func(n int) (c [3]float32) {
		for k := range 3 {
			if n>>k&1 == 1 {
				c[k] = float32(size[k])
			}
		}
		return c
	}
	var list []mesh.Triangle
	for _, q := range [6][4]int{{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4}, {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}} {
		a, b, c, d := corner(q[0]), corner(q[1]), corner(q[2]), corner(q[3])
		list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
	}
	m, err := mesh.FromTriangles(name, list)
	if err != nil {
		panic(err) // sizes of a kit are finite
	}
	return m
}

// firstNeeds is the number of the first step that handles each piece: that fits
// it, or fits, closes or threads something on it. Without a proven order the
// steps are counted as the file suggests them.
func firstNeeds(rep *plan.Project) []int {
	q := rep.Draft()
	first := make([]int, len(rep.Kit.Pieces))
	for i := range first {
		first[i] = NoStep
	}
	for v := range rep.Constraints.Steps {
		for _, p := range rep.Constraints.Steps[v].InHand() {
			first[p] = min(first[p], q.Place[v])
		}
	}
	return first
}
