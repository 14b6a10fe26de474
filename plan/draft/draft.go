package draft

import (
	"context"
	"fmt"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/project"
)

// Draft writes a first kit file for meshes at a path relative to it, and checks
// it. file is where it will be saved; name is the kit's; unit is the unit of its
// lengths.
func (m *Measurement) Draft(ctx context.Context, file, name, meshes, unit string, mmPerUnit float64) ([]byte, *plan.Project, error) {
	o := m.options
	o.Fresh = false // the cache has just been written
	text := m.draft.text(head{name, meshes, unit, mmPerUnit})
	k, err := kits.Read(file, text)
	if err != nil {
		return nil, nil, err
	}
	p, err := project.Of(ctx, k, o)
	return text, p, err
}

// kit is the draft as it is so far.
func (d *draft) kit() (*kits.Kit, error) {
	return kits.Read(kits.FileName, d.text(head{"draft", "", "mm", 1}))
}

// name gives pieces the ids of copies where the meshes are numbered .1, .2 and so on
// without a gap, and plain ids elsewhere.
func (d *draft) name() {
	copies := map[string][]int{}
	known := map[string]bool{}
	d.ids, d.files = make([]string, len(d.Pieces)), make([]string, len(d.Pieces))
	for i, p := range d.Pieces {
		d.ids[i], known[p.Piece] = p.Piece, true
		if part, number := project.CopyOf(p.Piece); number != "" {
			copies[part] = append(copies[part], i)
		}
	}
	for part, list := range copies {
		whole := !known[part] && len(list) > 1
		for n := range list {
			whole = whole && known[fmt.Sprintf("%s.%d", part, n+1)]
		}
		if whole {
			continue
		}
		for _, i := range list {
			d.ids[i] = project.PieceID(strings.ReplaceAll(d.ids[i], ".", "-"))
			d.files[i] = d.survey.Pieces[i].Name
		}
	}
}
