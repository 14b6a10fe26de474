package compare

import (
	"fmt"

	"dryfit/kits/geom"
)

// Verdict says whether a print can still be used.
type Verdict string

// The verdicts, as named in JSON.
const (
	Good     Verdict = "good"     // the mesh is the same
	Moved    Verdict = "moved"    // the same shape in another position; the print can be used
	Redo     Verdict = "redo"     // the shape or the material changed
	Alike    Verdict = "alike"    // size, volume and area agree, the triangles do not: undecided
	Untold   Verdict = "untold"   // no meshes to compare; the file does not change it
	New      Verdict = "new"      // it is new
	Unneeded Verdict = "unneeded" // it is no longer there
)

// Print says whether the print of a piece can still be used.
type Print struct {
	Piece   string
	Part    string
	Verdict Verdict
	Why     string    // in words, where there is more to say
	By      *geom.Vec // mm that it moved
}

func (p *pairs) prints() ([]Print, error) {
	var list []Print
	for i, pc := range p.after.Kit.Pieces {
		if !pc.Part.ToPrint() {
			continue
		}
		one, err := p.print(i)
		if err != nil {
			return nil, err
		}
		one.Piece, one.Part = pc.ID, pc.Part.ID
		list = append(list, one)
	}
	for _, i := range p.unneeded {
		if pc := p.before.Kit.Pieces[i]; pc.Part.ToPrint() {
			list = append(list, Print{Piece: pc.ID, Part: p.newID.of(pc.Part.ID), Verdict: Unneeded})
		}
	}
	return list, nil
}

// print judges the print of a piece of the new revision.
func (p *pairs) print(piece int) (Print, error) {
	w := p.oldPiece[piece]
	if w < 0 || !p.before.Kit.Pieces[w].Part.ToPrint() {
		return Print{Verdict: New}, nil
	}
	redo := func(format string, args ...any) (Print, error) {
		return Print{Verdict: Redo, Why: fmt.Sprintf(format, args...)}, nil
	}
	was, is := p.before.Kit.Pieces[w].Part, p.after.Kit.Pieces[piece].Part
	if was.Printed != is.Printed && was.Printed != "" && is.Printed != "" {
		return redo("it was printed in %s and is now in %s", was.Printed, is.Printed)
	}
	if m, n := was.Material, is.Material; m != nil && n != nil && m.ID != n.ID {
		return redo("it was printed in %s and is now in %s", m.ID, n.ID)
	}
	if a, b := p.before.Mesh(w), p.after.Mesh(piece); a != nil && b != nil {
		return judge(a, b)
	}
	if was.Size != nil && is.Size != nil && was.Size.XYZ != is.Size.XYZ {
		return redo("its size was %s and is now %s", box(was.Size), box(is.Size))
	}
	if k, o := p.after.Kit, p.before.Kit; k.Scale != o.Scale && !is.FixedSize {
		return redo("the kit was at %s and is now at %s", o.Scale, k.Scale)
	}
	return Print{Verdict: Untold}, nil
}
