package draft

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/blocking"
	"dryfit/plan/project"
)

// Draft writes a first kit file for meshes at a path relative to it, and checks
// it. file is where it will be saved; name is the kit's; unit is the unit of its
// lengths. The spaces found are left out if the kit has no order with them: sizes
// are boxes, and may wrongly reject a piece that goes in around a bend.
func (m *Measurement) Draft(ctx context.Context, file, name, meshes, unit string, mmPerUnit float64) ([]byte, *plan.Project, error) {
	o := m.options
	o.Fresh = false // the cache has just been written
	for _, hollows := range [][]blocking.Hollow{m.hollows, nil} {
		text := m.kitFile(name, meshes, unit, mmPerUnit, hollows)
		k, err := kits.Read(file, text)
		if err != nil {
			return nil, nil, err
		}
		p, err := project.Of(ctx, k, o)
		if err != nil {
			return nil, nil, err
		}
		unsound := func(f plan.Finding) bool { return f.Kind != plan.Clashes && f.Kind != plan.Blocked }
		if len(hollows) == 0 || !slices.ContainsFunc(p.Findings, unsound) {
			return text, p, nil
		}
	}
	panic("unreachable: the last draft is always returned")
}

// kitFile writes a kit file from the measurements: parts with their sizes, and
// joins where they touch, in the order of assembly, with the direction of travel.
func (m *Measurement) kitFile(name, meshes, unit string, mmPerUnit float64, hollows []blocking.Hollow) []byte {
	d := &draft{Measurement: m, unit: mmPerUnit, base: make([]int, len(m.Pieces)), parent: make([]int, len(m.Pieces))}
	for i := range d.base {
		d.base[i], d.parent[i] = i, -1
	}
	d.name()
	d.join()
	d.line("# A first draft from the meshes alone. Edit it: say how each part is printed, what")
	d.line("# each join is made with, what is painted when, and what must stay in reach.")
	d.line("kit: %s", quote(name))
	if unit != "mm" {
		d.line("units: %s", unit)
	}
	d.line("meshes: %s", quote(filepath.ToSlash(meshes)))
	d.line("")
	d.writeParts()
	d.writeJoins()
	d.writeSpaces(hollows)
	return d.out.Bytes()
}

// draft is a kit file being written.
type draft struct {
	*Measurement
	unit   float64 // mm
	out    bytes.Buffer
	ids    []string // of the pieces, as the draft calls them
	files  []string // mesh: of each piece; empty if it is named after the piece
	base   []int    // of the group a piece is in: the piece that no join fits
	parent []int    // piece it is fitted to; -1 if it is a base
	joins  []join
}

// join fits piece p to q, or closes their groups on each other.
type join struct {
	p, q   int
	close  bool
	bench  bool      // what hangs on p goes in with it
	toward *geom.Vec // nil if not known
	with   string
	note   string
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
