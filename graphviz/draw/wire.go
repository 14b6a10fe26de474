package draw

import (
	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// largeShare is the share of the model above which the middle of a piece is too vague a
// place for the end of a wire.
const largeShare = 0.3

func (t *painter) isLarge(pieces []int) bool {
	piece, _ := t.s.box(pieces)
	all, ok := t.s.box(t.scene.Still)
	return ok && piece.Size().Length() > largeShare*all.Size().Length()
}

// runPoints are the places that the run of a wire is drawn through: the middles of
// the pieces or, at an end on a large piece, the place of it that is nearest to the
// piece before.
func (t *painter) runPoints() []geom.Vec {
	var pieces []int
	for _, p := range t.scene.Run {
		if b := t.s.Bodies[p]; b != nil && !b.Empty() {
			pieces = append(pieces, p)
		}
	}
	list := make([]geom.Vec, len(pieces))
	for i, p := range pieces {
		list[i] = t.s.centre([]int{p})
	}
	ends := [][2]int{{0, 1}, {len(pieces) - 1, len(pieces) - 2}}
	for _, e := range ends {
		if len(pieces) > 1 && t.isLarge(pieces[e[0]:e[0]+1]) {
			list[e[0]] = t.nearest(pieces[e[0]], list[e[0]], list[e[1]])
		}
	}
	return list
}

// nearest is the place in the box of a piece that is nearest to another, but not so
// near that nothing would be left of the stretch between them.
func (t *painter) nearest(piece int, middle, to geom.Vec) geom.Vec {
	b := t.s.Bodies[piece]
	p := b.Nearest(to)
	least := 0.15 * b.Size().Length()
	if p.Minus(to).Length() < least {
		if toward := middle.Minus(to); toward != (geom.Vec{}) {
			return to.Plus(toward.Unit().Times(least))
		}
		return to
	}
	return p
}

// run draws the run of a wire schematically, for wires have no meshes.
func (t *painter) run() {
	var line []picture.Point
	for _, p := range t.runPoints() {
		line = append(line, t.at(p))
	}
	if len(line) < 2 {
		return
	}
	t.mark(picture.Mark{Paths: [][]picture.Point{line}, Stroke: "#ffffff", Width: haloLine})
	t.mark(picture.Mark{Paths: [][]picture.Point{line}, Stroke: ink, Width: arrowLine, Dash: []float64{2, 0.8}})
	for _, p := range []picture.Point{line[0], line[len(line)-1]} {
		t.mark(picture.Mark{Paths: [][]picture.Point{circle(p, 0.9)}, Closed: true, Fill: ink})
	}
}
