package mesh

import (
	"dryfit/kits/geom"
	"fmt"
	"math"
	"slices"
)

// Health is what a closer look at a mesh tells. Lengths are mm, places are in the
// finished model, as the triangles are given out.
type Health struct {
	Triangles    int
	Corners      int // different ones, in use
	Edges        int
	Shells       int // of triangles joined edge to edge
	Bodies       int // of those: solids that are apart, hollows not counted
	Euler        int // corners - edges + triangles: 2 for each shell like a ball, 0 for one like a ring
	Closed       bool
	Volume, Area float64
	ThinnestWall float64   // of those sampled; 0 if nothing was found to measure
	ThinAt       geom.Vec  // the middle of that wall
	UsualWall    float64   // half of those sampled are thinner; 0 if nothing was found to measure
	Problems     []Problem // the serious ones first
}

// Kinds of problems.
const (
	OpenEdges   = "open-edges"    // the surface has holes
	ManyFaces   = "many-faces"    // more than two triangles at an edge
	Reversed    = "reversed"      // neighbours that face opposite ways
	InsideOut   = "inside-out"    // a closed surface with its inside outside
	StandIn     = "stand-in"      // the file's triangles are not all of the shape
	SolidInside = "solid-inside"  // a solid in the solid of another
	Overlap     = "overlap"       // shells that cut into each other, or touch
	Crossing    = "crossing"      // a shell that cuts through itself
	Hollow      = "sealed-hollow" // liquid resin stays in it
	Bodies      = "bodies"        // several pieces in one
	ThinWall    = "thin-wall"     // thinner than asked for
	Duplicate   = "duplicate"     // triangles that stand there twice
	Degenerate  = "degenerate"    // triangles without area
	Seams       = "seams"         // corners that the file has twice
	Unchecked   = "unchecked"     // what was too much to look at
)

// Problem is something that a designer may have to mend.
type Problem struct {
	Kind    string // one of those above
	Count   int
	Place   geom.Vec // of one of them
	Text    string   // what is wrong, with the count
	Remedy  string   // what to do
	Serious bool     // size or inside of the piece cannot be relied on
}

// HealthOptions says what to look for.
type HealthOptions struct {
	MinWall float64 // mm; a thinner wall is a problem; 0 asks for none
}

// Sound reports that there is no serious problem.
func (h *Health) Sound() bool {
	for _, p := range h.Problems {
		if p.Serious {
			return false
		}
	}
	return true
}

// Health looks closely at a mesh. It takes about a second and 80 MB of memory for
// each million triangles. The error is one of reading the mesh again, or says that
// it has too many triangles.
//
// The corners of STL, which have no numbers, are the same when their places are, to
// the last bit. Those of 3MF and OBJ are the same when their numbers are, as the
// 3MF specification has it; only if the surface is not closed that way are they
// joined by place, and the difference is a problem of the kind [Seams].
func (m *Mesh) Health(o HealthOptions) (*Health, error) {
	s, e, seams, err := m.joined()
	if err != nil {
		return nil, err
	}
	corners := s.used()
	x := &examination{Mesh: m, surface: s, edges: e, options: o,
		health: &Health{
			Triangles: m.Len(), Corners: corners, Edges: e.count, Shells: e.shells,
			Euler:  corners - e.count + len(s.faces),
			Closed: e.open.n == 0 && len(s.faces) > 0,
			Volume: m.Volume, Area: m.Area,
		}}
	x.tiny = tiny(&m.Shape)
	x.edgeProblems()
	x.lacking()
	if len(s.faces) > 0 {
		x.tree = newTree(s)
		x.shellProblems()
		x.wallProblem()
	}
	x.faceProblems()
	if seams > 0 {
		x.note(Seams, seams, e.seam, fmt.Sprintf("%s open by the numbers of their corners, but closed by their places", many(seams, "edge is", "edges are")),
			"merge the corners that stand in the same place (merge by distance, weld)")
	}
	slices.SortStableFunc(x.health.Problems, func(a, b Problem) int { return rank(a) - rank(b) })
	return x.health, nil
}

func rank(p Problem) int {
	if p.Serious {
		return 0
	}
	return 1
}

// tiny is what two lengths may differ by and still be the same: a millionth of the
// mesh or of its distance from the origin, which is about what its numbers resolve.
func tiny(s *Shape) float64 {
	far := s.Size().Length()
	for k := range 3 {
		far = max(far, math.Abs(s.Min[k]), math.Abs(s.Max[k]))
	}
	return 1e-6 * far
}

// joined joins the triangles up: by the numbers of their corners if the file has
// them and they make a sound surface, else by their places. It tells how many edges
// are open by number alone.
func (m *Mesh) joined() (s *surface, e *edges, seams int, err error) {
	byNumber := 0
	if s = m.numbered(); s != nil {
		if e = s.edges(); e.open.n == 0 {
			return s, e, 0, nil
		}
		byNumber = e.open.n
	}
	at := geom.Vec{}
	if e != nil {
		at = e.open.at
	}
	if s, err = m.welded(); err != nil {
		return nil, nil, 0, err
	}
	e = s.edges()
	e.seam = at
	return s, e, max(byNumber-e.open.n, 0), nil
}

// examination is one look at a mesh.
type examination struct {
	*Mesh
	*surface
	*edges
	*tree
	options HealthOptions
	tiny    float64
	health  *Health
}

// note adds a problem that leaves size and inside of the piece as they are.
func (x *examination) note(kind string, n int, at geom.Vec, text, remedy string) {
	x.health.Problems = append(x.health.Problems, Problem{kind, n, at, text, remedy, false})
}

func (x *examination) serious(kind string, n int, at geom.Vec, text, remedy string) {
	x.health.Problems = append(x.health.Problems, Problem{kind, n, at, text, remedy, true})
}

// many is a count with its noun.
func many(n int, one, more string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, more)
}

func (x *examination) edgeProblems() {
	if e := x.edges.open; e.n > 0 {
		x.serious(OpenEdges, e.n, e.at,
			fmt.Sprintf("%s around %s in the surface", many(e.n, "open edge", "open edges"), many(x.holes, "hole", "holes")),
			"close the holes (fill, cap, or make solid), then export again")
	}
	if e := x.many; e.n > 0 {
		x.serious(ManyFaces, e.n, e.at,
			fmt.Sprintf("%s more than two triangles", many(e.n, "edge has", "edges have")),
			"where bodies touch along an edge, let them overlap or part by 0.1 mm; delete faces inside the part")
	}
	if e := x.reversed; e.n > 0 {
		x.serious(Reversed, e.n, e.at,
			fmt.Sprintf("the triangles at %s face opposite ways", many(e.n, "edge", "edges")),
			"make all faces point outward (recalculate normals)")
	}
	if x.Turned && x.health.Closed && x.reversed.n == 0 {
		x.serious(InsideOut, x.Len(), x.Centre,
			"the surface is inside out; it was taken as if turned",
			"turn all faces around (flip normals), then export again")
	}
}

func (x *examination) lacking() {
	if x.lack != "" {
		x.serious(StandIn, 1, x.Centre,
			fmt.Sprintf("the file also has %s, which is not read", x.lack),
			"export the part as a plain mesh")
	}
}

func (x *examination) faceProblems() {
	if n := x.twice; n.n > 0 {
		x.note(Duplicate, n.n, n.at,
			fmt.Sprintf("%s in the same place as another", many(n.n, "triangle stands", "triangles stand")),
			"delete the faces that are there twice")
	}
	flat := tallied{}
	for i := range x.faces {
		if p := x.triangle(i); isFlat(&p) {
			flat.add(func() geom.Vec { return x.middle(i) })
		}
	}
	if x.collapsed > 0 {
		if flat.n == 0 {
			flat.at = geom.Point(x.collapse)
		}
		flat.n += x.collapsed
	}
	if flat.n > 0 {
		x.note(Degenerate, flat.n, flat.at,
			fmt.Sprintf("%s no area", many(flat.n, "triangle has", "triangles have")),
			"harmless to most slicers; clean up the mesh (dissolve degenerate faces) if yours complains")
	}
}

// isFlat reports a triangle whose corners lie on a line, as nearly as can be told.
func isFlat(p *[3]geom.Vec) bool {
	u, v, w := p[1].Minus(p[0]), p[2].Minus(p[0]), p[2].Minus(p[1])
	return u.Cross(v).Length() <= 1e-10*max(u.Dot(u), v.Dot(v), w.Dot(w))
}

func (x *examination) wallProblem() {
	w := x.thinnest(x.tiny)
	x.health.ThinnestWall, x.health.ThinAt, x.health.UsualWall = w.thick, w.at, w.usual
	if w.thick > 0 && w.thick < x.options.MinWall {
		x.note(ThinWall, 1, w.at,
			fmt.Sprintf("a wall is %.2f mm thick, less than %.2f mm", w.thick, x.options.MinWall),
			"thicken the wall, or give it ribs")
	}
	if w.given > 0 {
		x.note(Unchecked, w.given, x.Centre,
			fmt.Sprintf("walls were not measured at %d of %d places: too many triangles lie there", w.given, w.looks),
			"clean up the mesh, or make it coarser")
	}
}
