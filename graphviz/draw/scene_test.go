package draw

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// solid is a convex prism in some pose, with its faces and edges known exactly.
type solid struct {
	list    []mesh.Triangle
	corners []geom.Vec
	faces   []face
	edges   []ridge
}

// face is the plane of a side: what is inside has dot(normal, x) below at.
type face struct {
	normal geom.Vec
	at     float64
}

// ridge is an edge between two faces.
type ridge struct {
	from, to geom.Vec
	a, b     int
}

// newSolid draws a convex polygon, counter-clockwise, out along z, turns and moves it.
func newSolid(polygon [][2]float64, height float64, turn [3][3]float64, move geom.Vec) *solid {
	s := &solid{list: meshtest.Transform(meshtest.Prism(polygon, 0, height), turn, move, 1)}
	n := len(polygon)
	at := func(i int, z float64) geom.Vec {
		p := polygon[i%n]
		return meshtest.Apply(turn, move, 1, geom.Vec{p[0], p[1], z})
	}
	up := geom.Vec(meshtest.Apply(turn, geom.Vec{}, 1, geom.Vec{0, 0, 1}))
	for i := range n {
		out := at(i+1, 0).Minus(at(i, 0)).Cross(up).Unit()
		s.faces = append(s.faces, face{out, out.Dot(at(i, 0))})
		s.corners = append(s.corners, at(i, 0), at(i, height))
		s.edges = append(s.edges,
			ridge{at(i, 0), at(i, height), (i + n - 1) % n, i},
			ridge{at(i, 0), at(i+1, 0), i, n},
			ridge{at(i, height), at(i+1, height), i, n + 1})
	}
	s.faces = append(s.faces, face{up.Times(-1), -up.Dot(at(0, 0))}, face{up, up.Dot(at(0, height))})
	return s
}

func (s *solid) centre() geom.Vec {
	var sum geom.Vec
	for _, c := range s.corners {
		sum = sum.Plus(c)
	}
	return sum.Times(1 / float64(len(s.corners)))
}

// bend is the angle between the two faces of an edge, in degrees: 0 for none.
func (s *solid) bend(e ridge) float64 {
	return math.Acos(min(1, max(-1, s.faces[e.a].normal.Dot(s.faces[e.b].normal)))) * 180 / math.Pi
}

// randomSolid is a box or a prism, with edges that are clearly bends or clearly none.
func randomSolid(r *rand.Rand, move geom.Vec) *solid {
	for {
		w, h := 6+30*r.Float64(), 6+30*r.Float64()
		polygon := [][2]float64{{-w, -h}, {w, -h}, {w, h}, {-w, h}}
		if n := 3 + r.IntN(9); r.IntN(2) == 0 {
			var angles []float64
			for range n {
				angles = append(angles, 2*math.Pi*r.Float64())
			}
			slices.Sort(angles)
			polygon = nil
			for _, a := range angles {
				polygon = append(polygon, [2]float64{w * math.Cos(a), h * math.Sin(a)})
			}
		}
		if thin(polygon) {
			continue
		}
		s := newSolid(polygon, 3+40*r.Float64(), meshtest.RandomRotation(r), move)
		if !slices.ContainsFunc(s.edges, func(e ridge) bool { return math.Abs(s.bend(e)-30) < 1 }) {
			return s
		}
	}
}

// thin reports whether a polygon has sides too short, or too little area, to tell what
// is drawn of it.
func thin(polygon [][2]float64) bool {
	area := 0.0
	for i, p := range polygon {
		q := polygon[(i+1)%len(polygon)]
		if math.Hypot(q[0]-p[0], q[1]-p[1]) < 2 {
			return true
		}
		area += (p[0]*q[1] - q[0]*p[1]) / 2
	}
	return area < 60
}

// apart reports whether two convex solids are at least a gap apart along some line: one
// across a face or across an edge of each.
func apart(a, b *solid, gap float64) bool {
	var lines []geom.Vec
	for _, f := range append(slices.Clone(a.faces), b.faces...) {
		lines = append(lines, f.normal)
	}
	for _, e := range a.edges {
		for _, f := range b.edges {
			if l := e.to.Minus(e.from).Cross(f.to.Minus(f.from)); l.Length() > 1e-6 {
				lines = append(lines, l.Unit())
			}
		}
	}
	for _, l := range lines {
		a0, a1 := span2(a.corners, l)
		b0, b1 := span2(b.corners, l)
		if a0 > b1+gap || b0 > a1+gap {
			return true
		}
	}
	return false
}

// span2 is how far places reach along a line.
func span2(places []geom.Vec, along geom.Vec) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, p := range places {
		d := p.Dot(along)
		low, high = min(low, d), max(high, d)
	}
	return low, high
}

// randomScene is up to five solids that do not touch.
func randomScene(r *rand.Rand) []*solid {
	var scene []*solid
	for n := 1 + r.IntN(5); len(scene) < n; {
		s := randomSolid(r, geom.Vec{35 * r.NormFloat64(), 35 * r.NormFloat64(), 35 * r.NormFloat64()})
		if !slices.ContainsFunc(scene, func(o *solid) bool { return !apart(s, o, 0.5) }) {
			scene = append(scene, s)
		}
	}
	return scene
}

// randomView looks from anywhere, the model turned over or not.
func randomView(r *rand.Rand) View {
	return NewView(360*r.Float64(), 178*r.Float64()-89, r.IntN(2) == 0)
}

// bodyOf is a body of triangles, in full detail.
func bodyOf(t testing.TB, list []mesh.Triangle) *Body {
	t.Helper()
	m, err := mesh.FromTriangles("piece", list)
	if err != nil {
		t.Fatal(err)
	}
	b, err := NewBody(m, 0)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// random is a source of numbers that are the same in every run.
func random(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 0)) }

// split cuts each triangle into four by the middles of its sides.
func split(list []mesh.Triangle) []mesh.Triangle {
	middle := func(a, b [3]float32) [3]float32 {
		return [3]float32{(a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2}
	}
	out := make([]mesh.Triangle, 0, 4*len(list))
	for _, t := range list {
		a, b, c := middle(t[1], t[2]), middle(t[2], t[0]), middle(t[0], t[1])
		out = append(out, mesh.Triangle{t[0], c, b}, mesh.Triangle{c, t[1], a}, mesh.Triangle{b, a, t[2]}, mesh.Triangle{a, b, c})
	}
	return out
}
