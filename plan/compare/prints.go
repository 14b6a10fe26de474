package compare

import (
	"fmt"

	"dryfit/kits"
)

// Verdict says what becomes of a print.
type Verdict string

// The verdicts, as they are called in JSON.
const (
	Good     Verdict = "good"     // the mesh is the same
	Moved    Verdict = "moved"    // the same shape stands elsewhere; the print stays good
	Redo     Verdict = "redo"     // the shape, or what it is printed of, is another
	Alike    Verdict = "alike"    // size, volume and area agree, the triangles do not: it cannot be told
	Untold   Verdict = "untold"   // there is no mesh to tell; the file says nothing that changes it
	New      Verdict = "new"      // it was not there
	Unneeded Verdict = "unneeded" // it is there no more
)

// Print is what becomes of the print of a piece.
type Print struct {
	Piece   string
	Part    string
	Verdict Verdict
	Why     string      // in words, where there is more to say
	By      *[3]float64 // mm that it moved
}

func (p *pairs) prints() ([]Print, error) {
	var list []Print
	for i, pc := range p.after.Kit.Pieces {
		if !isPrint(pc.Part) {
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
		if pc := p.before.Kit.Pieces[i]; isPrint(pc.Part) {
			part := pc.Part.ID
			if id, renamed := p.newID[part]; renamed {
				part = id
			}
			list = append(list, Print{Piece: pc.ID, Part: part, Verdict: Unneeded})
		}
	}
	return list, nil
}

func isPrint(p *kits.Part) bool { return !p.Bought && !p.Made }

// print judges the print of a piece of the new revision.
func (p *pairs) print(piece int) (Print, error) {
	w := p.oldPiece[piece]
	if w < 0 || !isPrint(p.before.Kit.Pieces[w].Part) {
		return Print{Verdict: New}, nil
	}
	was, is := p.before.Kit.Pieces[w].Part, p.after.Kit.Pieces[piece].Part
	if was.Printed != is.Printed && was.Printed != "" && is.Printed != "" {
		return Print{Verdict: Redo, Why: fmt.Sprintf("it was printed of %s and is of %s", was.Printed, is.Printed)}, nil
	}
	if m, n := was.Material, is.Material; m != nil && n != nil && m.ID != n.ID {
		return Print{Verdict: Redo, Why: fmt.Sprintf("it was printed of %s and is of %s", m.ID, n.ID)}, nil
	}
	a, b := p.meshes(piece)
	if a != nil && b != nil {
		return judge(a, b)
	}
	if was.Size != nil && is.Size != nil && was.Size.XYZ != is.Size.XYZ {
		return Print{Verdict: Redo, Why: fmt.Sprintf("its size was %s and is %s", box(was.Size), box(is.Size))}, nil
	}
	if k, o := p.after.Kit, p.before.Kit; k.Scale != o.Scale && !is.FixedSize {
		return Print{Verdict: Redo, Why: fmt.Sprintf("the kit was at %s and is at %s", o.Scale, k.Scale)}, nil
	}
	return Print{Verdict: Untold}, nil
}
