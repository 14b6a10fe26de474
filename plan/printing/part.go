package printing

import (
	"context"
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/printing/supports"
)

// Part is what is to be printed: a part of the kit with its copies.
type Part struct {
	Of      *kits.Part
	Pieces  []Piece
	Surface Surface
	Shape   mesh.Shape
	BySize  bool    // no mesh: the surface is that of the box around it, and its volume an upper bound
	Open    float64 // share of the inside, within the walls, that is left empty; 0 for solid
	Hollows int     // hollows that nothing leads out of
	Differ  bool    // its copies differ in volume or surface
	// Seen says which triangles of its surface are seen on the finished model; nil if
	// that is not known.
	Seen func(triangle int) bool

	planned  string    // the piece whose mesh is the surface
	seenHash mesh.Hash // of what is seen; zero if nothing is known
}

// Piece is one copy of a part.
type Piece struct {
	ID    string
	Need  int  // number of the first step that needs it, from 1; NoStep if none does
	Spare bool // beyond those in the model: kept in reserve
}

// NoStep is the need of a piece that no step needs: tooling, spares. They come last.
const NoStep = math.MaxInt32

// Clear reports whether the part must stay clear: it is masked while everything
// is painted.
func (p *Part) Clear() bool { return p.Of.Paint == kits.PaintMasked }

// Material is how much is printed of the part, in mm3, without supports; an upper
// bound if only its size is known.
func (p *Part) Material() float64 {
	if p.Open == 0 || p.BySize {
		return p.Shape.Volume
	}
	return p.Shape.Material(1 - p.Open)
}

// facts are the properties of a part's surface that hold for every printer.
type facts struct {
	*Part
	hull    *Hull
	rough   []geom.Vec // a few corners of the hull, for comparing turns
	facing  *facing
	bases   []Facet            // flat faces of the hull on which the part stands unsupported
	contact []float64          // how much of its surface lies in each, mm2
	width   []float64          // and how wide it is where it is narrow, mm
	flats   []Facet            // flat sides of the hull worth mentioning
	sides   map[string][]*pose // by process, computed on demand
	solid   supports.Part
	known   *Known
	quick   bool // it is a box, and there are more parts than manyBoxes: less effort is made
	room    int  // how many times room on the bed counts, see roomsFor
}

// maxBases bounds the flat faces that are considered.
const maxBases = 24

// look reads the surface of a part, twice.
func look(ctx context.Context, p *Part) (*facts, error) {
	f := &facts{Part: p, facing: newFacing(), sides: map[string][]*pose{}, room: 1}
	var h hullMaker
	seen := p.Seen
	if p.Clear() {
		seen = func(int) bool { return true }
	}
	err := p.Surface.Blocks(func(first int, block []mesh.Triangle) error {
		h.add(block)
		f.facing.add(first, block, seen)
		f.solid.Triangles = first + len(block)
		return ctx.Err()
	})
	if err != nil {
		return nil, err
	}
	f.facing.sum()
	f.solid.Surface, f.solid.Seen = p.Surface, seen
	f.hull = h.hull()
	h.done()
	f.rough = f.hull.Points
	if len(f.rough) > len(roughWays) {
		f.rough = outermost(f.rough, roughWays)
	}
	var hull float64
	for _, face := range f.hull.Facets {
		hull += face.Area
	}
	for _, face := range f.hull.Facets {
		if face.Area >= sideShare*hull {
			f.flats = append(f.flats, face)
		}
		if len(f.bases) < maxBases && face.holds(p.Shape.Centre) {
			f.bases = append(f.bases, face)
			f.width = append(f.width, face.width())
		}
	}
	c := newContact(f.bases)
	if err := each(ctx, p.Surface, c.add); err != nil {
		return nil, err
	}
	f.contact = c.area
	return f, nil
}

// settled frees what chose how the part lies. Boxes need none of the rest either.
func (f *facts) settled() {
	f.sides, f.bases, f.rough = nil, nil, nil
	if f.BySize {
		f.hull, f.facing, f.flats = nil, nil, nil
	}
}

// roughWays are directions all round, closed under mirroring, so that mirrored
// parts are judged alike.
var roughWays = func() []geom.Vec {
	var list []geom.Vec
	for x := -2; x <= 2; x++ {
		for y := -2; y <= 2; y++ {
			for z := -2; z <= 2; z++ {
				if x%2 != 0 || y%2 != 0 || z%2 != 0 {
					list = append(list, geom.Vec{float64(x), float64(y), float64(z)}.Unit())
				}
			}
		}
	}
	return list
}()

// height is how high a part stands with a direction down, mm.
func (f *facts) height(down geom.Vec) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range f.rough {
		v := p.Dot(down)
		lo, hi = min(lo, v), max(hi, v)
	}
	return hi - lo
}

// axes are the six directions along the model's axes, down first.
var axes = [6]geom.Vec{{0, 0, -1}, {0, 0, 1}, {0, -1, 0}, {0, 1, 0}, {-1, 0, 0}, {1, 0, 0}}
