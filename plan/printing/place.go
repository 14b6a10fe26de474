package printing

import (
	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Mesh is the part's mesh, in the model's axes; nil if only its size is known.
func (p *Part) Mesh() *mesh.Mesh {
	if p.BySize {
		return nil
	}
	m, _ := p.Surface.(*mesh.Mesh)
	return m
}

// ClearsEdge reports whether the piece leaves the edge of its printer's bed free.
func (p *Placed) ClearsEdge(on *kits.Printer) bool { return p.Setting.clears(on) }

// quarterTurns are right angles about the upright axis, exact.
var quarterTurns = [4]Turn{
	{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	{{0, -1, 0}, {1, 0, 0}, {0, 0, 1}},
	{{-1, 0, 0}, {0, -1, 0}, {0, 0, 1}},
	{{0, 1, 0}, {-1, 0, 0}, {0, 0, 1}},
}

// Turn is how the piece is turned on the plate from the part's orientation in the
// model.
func (p *Placed) Turn() Turn { return quarterTurns[p.Quarters].after(p.Setting.Turn) }

// Transform moves the part's mesh to where the piece is printed: x and y from the
// front left corner of the volume, z from the bed up, mm.
func (p *Placed) Transform() geom.Transform {
	t := p.Turn()
	a := quarterTurns[p.Quarters].apply(p.Setting.Outline.Low)
	b := quarterTurns[p.Quarters].apply(p.Setting.Outline.Low.Plus(p.Setting.Outline.Size))
	move := geom.Vec{p.X, p.Y, p.Setting.Raised}
	for k := range move {
		move[k] -= min(a[k], b[k])
	}
	var out geom.Transform
	for k := range 3 {
		out[k] = geom.Vec{t[0][k], t[1][k], t[2][k]}
	}
	out[3] = move
	return out
}
