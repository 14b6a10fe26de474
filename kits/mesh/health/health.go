package health

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Options says what to look for.
type Options struct {
	Walls   bool    // measure how thick walls are, which takes longer than all else
	MinWall float64 // mm; a thinner wall is a problem; 0 for no limit
}

// Examine takes about half a second and 80 MB of memory for each million triangles, and some
// milliseconds for the walls.
// The error comes from reading the mesh again, or says that it has too many
// triangles, or is that of the context.
//
// Corners in STL, which have no numbers, are the same if their positions are
// equal to the last bit. Those in 3MF and OBJ are the same if their numbers are,
// as the 3MF specification requires; only if the surface is not closed that way
// are they matched by position, and the difference is a problem of kind
// [mesh.Seams]. If the surface is still not closed, corners at its open edges that differ
// in their last digits count as one, and that is such a problem too.
func Examine(ctx context.Context, m *mesh.Mesh, o Options) (*mesh.Health, error) {
	s, e, seams, err := joined(m)
	if err != nil {
		return nil, err
	}
	corners := s.used()
	x := &examination{Mesh: m, surface: s, edges: e, options: o,
		health: &mesh.Health{
			Triangles: m.Len(), Corners: corners, Edges: e.count, Shells: e.shells,
			Euler:  corners - e.count + len(s.faces),
			Closed: e.open.n == 0 && len(s.faces) > 0,
			Volume: m.Volume, Area: m.Area,
		}}
	x.tiny = tiny(&m.Shape)
	x.edgeProblems()
	x.lacking()
	if len(s.faces) > 0 {
		x.tree = newTree(ctx, s)
		x.shellProblems()
	}
	if x.health.Walls = o.Walls; o.Walls && x.tree != nil {
		x.wallProblem()
	}
	x.faceProblems()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if seams > 0 {
		x.note(mesh.Seams, seams, e.seam, fmt.Sprintf("%s open by vertex number but closed by position", english.Count(seams, "edge is", "edges are")),
			"merge vertices by distance (weld)")
	}
	if e.closed > 0 {
		x.note(mesh.Seams, e.closed, e.gapAt, fmt.Sprintf("%s open by at most %s mm, the last digits of their corners", english.Count(e.closed, "edge is", "edges are"), digits(e.gap)),
			"harmless to most slicers; if yours complains, merge vertices by distance (weld)")
	}
	slices.SortStableFunc(x.health.Problems, func(a, b mesh.Problem) int { return rank(a) - rank(b) })
	return x.health, nil
}

func rank(p mesh.Problem) int {
	if p.Serious {
		return 0
	}
	return 1
}

// tiny is the difference below which lengths count as equal: a millionth of the
// mesh or of its distance from the origin, about the resolution of its numbers.
func tiny(s *mesh.Shape) float64 { return 1e-6 * extent(s) }

// extent is the size of a mesh, or its distance from the origin if that is more.
func extent(s *mesh.Shape) float64 {
	d := s.Size().Length()
	for k := range 3 {
		d = max(d, math.Abs(s.Min[k]), math.Abs(s.Max[k]))
	}
	return d
}

// digits is a small length with two digits that count.
func digits(mm float64) string {
	return strconv.FormatFloat(mm, 'f', max(1-int(math.Floor(math.Log10(mm))), 0), 64)
}

// joined connects the triangles: by corner number if the file has numbers and
// they make a sound surface, otherwise by position. seams is the number of edges
// open only by number.
func joined(m *mesh.Mesh) (s *surface, e *edges, seams int, err error) {
	byNumber := 0
	if s = numbered(m); s != nil {
		if e = s.edges(); e.open.n == 0 {
			return s, e, 0, nil
		}
		byNumber = e.open.n
	}
	at := geom.Vec{}
	if e != nil {
		at = e.open.at
	}
	if s, err = welded(m); err != nil {
		return nil, nil, 0, err
	}
	e = s.edges()
	seams = max(byNumber-e.open.n, 0)
	s, e = closeUp(s, e, lastDigits*extent(&m.Shape))
	e.seam = at
	return s, e, seams, nil
}

// examination is the state of one examination of a mesh.
type examination struct {
	*mesh.Mesh
	*surface
	*edges
	*tree
	options Options
	tiny    float64
	health  *mesh.Health
}

// note adds a problem that does not affect the size or the inside of the piece.
func (x *examination) note(kind string, n int, at geom.Vec, text, remedy string) {
	x.health.Problems = append(x.health.Problems, mesh.Problem{Kind: kind, Count: n, Place: at, Text: text, Remedy: remedy})
}

func (x *examination) serious(kind string, n int, at geom.Vec, text, remedy string) {
	x.health.Problems = append(x.health.Problems, mesh.Problem{Kind: kind, Count: n, Place: at, Text: text, Remedy: remedy, Serious: true})
}

func (x *examination) edgeProblems() {
	if e := x.edges.open; e.n > 0 {
		x.serious(mesh.OpenEdges, e.n, e.at,
			fmt.Sprintf("%s around %s in the surface", english.Count(e.n, "open edge", "open edges"), english.Count(x.holes, "hole", "holes")),
			"close the holes (fill, cap, or make solid), then export again")
	}
	if e := x.many; e.n > 0 {
		x.serious(mesh.ManyFaces, e.n, e.at,
			fmt.Sprintf("%s more than two triangles", english.Count(e.n, "edge has", "edges have")),
			"where bodies touch along an edge, make them overlap or move them 0.1 mm apart; delete faces inside the part")
	}
	if e := x.reversed; e.n > 0 {
		x.serious(mesh.Reversed, e.n, e.at,
			fmt.Sprintf("the triangles at %s face opposite ways", english.Count(e.n, "edge", "edges")),
			"make all faces point outward (recalculate normals)")
	}
	if x.Turned && x.health.Closed && x.reversed.n == 0 {
		x.serious(mesh.InsideOut, x.Len(), x.Centre,
			"the surface is inside out; it was read as if turned",
			"flip all normals, then export again")
	}
}

func (x *examination) lacking() {
	if x.Unread != "" {
		x.serious(mesh.StandIn, 1, x.Centre,
			fmt.Sprintf("the file also has %s, which is not supported", x.Unread),
			"export the part as a plain mesh")
	}
}

func (x *examination) faceProblems() {
	if n := x.twice; n.n > 0 {
		x.note(mesh.Duplicate, n.n, n.at,
			fmt.Sprintf("%s in the same place as another", english.Count(n.n, "triangle is", "triangles are")),
			"delete the duplicate faces")
	}
	flat := tallied{}
	far := x.Size().Dot(x.Size())
	for i := range x.faces {
		if x.flat(i, far) {
			flat.add(func() geom.Vec { return x.middle(i) })
		}
	}
	if x.collapsed > 0 {
		if flat.n == 0 {
			flat.at = geom.Point(x.collapse)
		}
		flat.n += x.collapsed
	}
	if flat.n > 0 && flat.n == x.Len() {
		x.serious(mesh.Degenerate, flat.n, flat.at, "no triangle has any area: there is nothing to print", "export the part again")
		return
	}
	if flat.n > 0 {
		x.note(mesh.Degenerate, flat.n, flat.at,
			fmt.Sprintf("%s no area", english.Count(flat.n, "triangle has", "triangles have")),
			"harmless to most slicers; clean up the mesh (dissolve degenerate faces) if yours complains")
	}
}

// flat reports a triangle whose corners are on a line, within rounding errors. No two are
// further apart than the root of far.
func (s *surface) flat(face int, far float64) bool {
	x, y, z := s.normal(face)
	if x*x+y*y+z*z > 2e-20*far*far {
		return false
	}
	f := &s.faces[face]
	longest := max(s.apart(f[0], f[1]), s.apart(f[1], f[2]), s.apart(f[2], f[0]))
	return x*x+y*y+z*z <= 1e-20*longest*longest
}

// apart is the square of the distance of two corners.
func (s *surface) apart(a, b uint32) float64 {
	p, q := &s.corners[a], &s.corners[b]
	x, y, z := float64(p[0])-float64(q[0]), float64(p[1])-float64(q[1]), float64(p[2])-float64(q[2])
	return x*x + y*y + z*z
}

func (x *examination) wallProblem() {
	w := x.thinnest(x.tiny)
	x.health.ThinnestWall, x.health.ThinAt, x.health.UsualWall = w.thick, w.at, w.usual
	if w.thick > 0 && w.thick < x.options.MinWall {
		x.note(mesh.ThinWall, 1, w.at,
			fmt.Sprintf("a wall is %.2f mm thick, less than %.2f mm", w.thick, x.options.MinWall),
			"thicken the wall, or add ribs")
	}
	if w.given > 0 {
		x.note(mesh.Unchecked, w.given, x.Centre,
			fmt.Sprintf("walls were not measured at %d of %d places: too many triangles are there", w.given, w.looks),
			"clean up the mesh, or make it coarser")
	}
}
