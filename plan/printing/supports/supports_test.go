package supports

import (
	"fmt"
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// solid is a part whose need for support is known in closed form, standing as it is.
type solid struct {
	name    string
	list    []mesh.Triangle
	rules   Rules
	area    float64 // mm2
	columns float64 // mm3
	onPart  float64
	islands int
}

var (
	onBed  = Rules{Angle: 45, Layer: 0.2}
	raised = Rules{Angle: 45, Exact: true, Raise: 5, Layer: 0.05}
)

func box(x0, y0, z0, x1, y1, z1 float64) []mesh.Triangle {
	return meshtest.Box([3]float64{x0, y0, z0}, [3]float64{x1, y1, z1})
}

// table stands on four legs.
func table(r *rand.Rand) solid {
	w, d, h, t, leg := 30+50*r.Float64(), 25+40*r.Float64(), 8+30*r.Float64(), 2+3*r.Float64(), 3+3*r.Float64()
	list := box(0, 0, h, w, d, h+t)
	for _, c := range [4][2]float64{{0, 0}, {w - leg, 0}, {0, d - leg}, {w - leg, d - leg}} {
		list = append(list, box(c[0], c[1], 0, c[0]+leg, c[1]+leg, h+0.01)...)
	}
	area := w*d - 4*leg*leg
	return solid{name: "table", list: list, rules: onBed, area: area, columns: area * h}
}

// arch is a block with a round tunnel through it.
func arch(r *rand.Rand) solid {
	radius, d, side, roof := 8+20*r.Float64(), 10+40*r.Float64(), 2+4*r.Float64(), 2+4*r.Float64()
	const n = 200
	ring := [][2]float64{{-radius - side, 0}, {-radius - side, radius + roof}, {radius + side, radius + roof}, {radius + side, 0}}
	for i := range n + 1 {
		s, c := math.Sincos(math.Pi * float64(i) / n)
		ring = append(ring, [2]float64{radius * c, radius * s})
	}
	upright := [3][3]float64{{1, 0, 0}, {0, 0, -1}, {0, 1, 0}}
	list := meshtest.Transform(meshtest.Prism(ring, 0, d), upright, [3]float64{}, 1)
	return solid{name: "arch", list: list, rules: onBed, area: radius * math.Pi / 2 * d, columns: radius * radius * (math.Pi/4 + 0.5) * d}
}

// ball is held up all round its lowest point.
func ball(r *rand.Rand) solid {
	radius := 4 + 20*r.Float64()
	edge := radius / math.Sqrt2
	columns := math.Pi*edge*edge*(radius+5) - 2*math.Pi/3*(math.Pow(radius, 3)-math.Pow(edge, 3))
	return solid{name: "ball", list: meshtest.Sphere(radius, 120, 240), rules: raised, area: 2 * math.Pi * radius * radius * (1 - math.Sqrt(0.5)), columns: columns}
}

// bell is a cup upside down.
func bell(r *rand.Rand) solid {
	radius, depth, wall := 8+20*r.Float64(), 10+30*r.Float64(), 1.5+2*r.Float64()
	list := meshtest.Lathe([][2]float64{{radius, 0}, {radius + wall, 0}, {radius + wall, depth + wall}, {0, depth + wall}, {0, depth}, {radius, depth}}, 120)
	area := 60 * math.Sin(2*math.Pi/120) * radius * radius
	return solid{name: "bell", list: list, rules: onBed, area: area, columns: area * depth}
}

// funnel leans out all round at an angle, in degrees from the bed.
func funnel(angle float64, rules Rules) solid {
	const foot, wide = 6.0, 16.0
	h := (wide - foot) * math.Tan(angle*math.Pi/180)
	s := solid{name: fmt.Sprintf("funnel at %g", angle), list: meshtest.Frustum(foot, wide, 0, h, 360), rules: rules}
	if angle < rules.Angle || angle == rules.Angle && rules.Exact {
		s.area = math.Pi * (foot + wide) * math.Hypot(wide-foot, h)
		ring := math.Pi * (wide*wide - foot*foot)
		cone := math.Pi * wide * wide * h / 3 * (1 + foot/wide + foot*foot/wide/wide) // under the side and the foot
		s.columns = ring*rules.Raise + math.Pi*wide*wide*h - cone
	}
	if rules.Raise > 0 {
		s.area += math.Pi * foot * foot
		s.columns += math.Pi * foot * foot * rules.Raise
	}
	return s
}

// shelf has an upper board over a lower one: its supports stand on the part.
func shelf(r *rand.Rand) solid {
	w, d, h, t := 20+30*r.Float64(), 15+20*r.Float64(), 6+20*r.Float64(), 2+2*r.Float64()
	ring := [][2]float64{{0, 0}, {w, 0}, {w, t}, {t, t}, {t, t + h}, {w, t + h}, {w, 2*t + h}, {0, 2*t + h}}
	list := meshtest.Transform(meshtest.Prism(ring, 0, d), [3][3]float64{{1, 0, 0}, {0, 0, -1}, {0, 1, 0}}, [3]float64{}, 1)
	return solid{name: "shelf", list: list, rules: onBed, area: (w - t) * d, columns: (w - t) * d * h, onPart: (w - t) * d * h}
}

// cave is a board on a leg from which pointed pegs hang.
func cave(r *rand.Rand) solid {
	n := 1 + r.Intn(7)
	list := box(0, 0, 30, 12*float64(n+1), 12, 33)
	list = append(list, box(1, 1, 0, 6, 11, 30.5)...)
	s := solid{name: fmt.Sprintf("cave of %d", n), rules: Rules{Angle: 45, Layer: 0.05, Exact: true}, islands: n}
	s.area = 12*12*float64(n+1) - 50
	s.columns = s.area * 30
	for i := range n {
		h := 4 + 20*r.Float64()
		x := 12*float64(i+1) + 6
		list = append(list, meshtest.Transform(meshtest.Frustum(0, 2, 30-h, 30.5, 90), [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, [3]float64{x, 6, 0}, 1)...)
		hole := math.Pi * math.Pow(2*h/(h+0.5), 2)
		s.area -= hole
		s.columns -= hole * 30
	}
	s.list = list
	return s
}

func solids() (list []solid) {
	r := rand.New(rand.NewSource(17))
	for range 8 {
		list = append(list, table(r), arch(r), ball(r), bell(r), shelf(r), cave(r))
	}
	for angle := 15.0; angle <= 75; angle += 5 {
		list = append(list, funnel(angle, onBed), funnel(angle, raised))
	}
	return list
}

// measured turns a solid any way, and measures it turned back.
func measured(t testing.TB, s solid, r *rand.Rand) (*Part, Need, Turn, geom.Box) {
	t.Helper()
	turn := meshtest.RandomRotation(r)
	list := meshtest.Transform(s.list, turn, [3]float64{20, -7, 3}, 1)
	m := meshOf(t, list)
	spin := 0.3 + r.Float64() // about the vertical
	back := Turn{}
	for i := range 3 {
		for k := range 3 {
			back[i][k] = turn[k][i]
		}
	}
	sin, cos := math.Sincos(spin)
	back[0], back[1] = back[0].Times(cos).Plus(back[1].Times(-sin)), back[0].Times(sin).Plus(back[1].Times(cos))
	b := geom.Box{Min: geom.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Max: geom.Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}}
	for _, c := range list {
		for _, v := range c {
			p := geom.Point(v)
			b = b.With(geom.Vec{back[0].Dot(p), back[1].Dot(p), back[2].Dot(p)})
		}
	}
	p := &Part{Surface: m, Triangles: m.Len()}
	n, err := p.Measure(t.Context(), back, b, s.rules)
	if err != nil {
		t.Fatal(err)
	}
	return p, n, back, b
}

func meshOf(t testing.TB, list []mesh.Triangle) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles("part", list)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func near(got, want, share float64) bool { return math.Abs(got-want) <= share*math.Abs(want)+0.01 }

// Area and column volume of known solids are within 5 % of the closed form, and
// islands are counted exactly.
func TestKnownSolids(t *testing.T) {
	list := solids()
	if len(list) < 60 {
		t.Fatalf("only %d solids", len(list))
	}
	r := rand.New(rand.NewSource(3))
	worst := map[string]float64{}
	for _, s := range list {
		_, n, _, _ := measured(t, s, r)
		if !near(n.Area, s.area, 0.05) || !near(n.Columns, s.columns, 0.05) || !near(n.OnPart, s.onPart, 0.05) {
			t.Errorf("%s: %.1f mm2 and %.1f mm3, %.1f of it on the part; should be %.1f, %.1f and %.1f", s.name, n.Area, n.Columns, n.OnPart, s.area, s.columns, s.onPart)
		}
		if n.Islands != s.islands {
			t.Errorf("%s: %d islands, should be %d", s.name, n.Islands, s.islands)
		}
		if s.area > 0 {
			worst["area"] = max(worst["area"], math.Abs(n.Area/s.area-1))
			worst["columns"] = max(worst["columns"], math.Abs(n.Columns/s.columns-1))
		}
	}
	t.Logf("%d solids, worst errors: area %.2f %%, columns %.2f %%", len(list), 100*worst["area"], 100*worst["columns"])
}
