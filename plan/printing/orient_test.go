package printing

import (
	"math"
	"math/rand"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// partOf is a part of the given shape.
func partOf(t testing.TB, of *kits.Part, solid []mesh.Triangle) *Part {
	t.Helper()
	m := meshOf(t, solid)
	return &Part{Of: of, Surface: m, Shape: m.Shape, Pieces: []Piece{{ID: of.ID, Need: 1}}}
}

func settingOf(t testing.TB, p *Part, printer *kits.Printer) (*facts, *Setting) {
	t.Helper()
	f, err := look(t.Context(), p)
	if err != nil {
		t.Fatal(err)
	}
	s, _, err := f.set(t.Context(), printer)
	if err != nil {
		t.Fatal(err)
	}
	return f, s
}

var resinBed = geom.Vec{150, 90, 160}

// A plate of resin is tilted by 30 to 60 degrees, so that neither side lies along the
// film; of filament it lies flat, however it stands in the model.
func TestPlateLies(t *testing.T) {
	rng := rand.New(rand.NewSource(10))
	for range 10 {
		turn := meshtest.RandomRotation(rng)
		solid := meshtest.Transform(meshtest.Box([3]float64{0, 0, 0}, [3]float64{80, 50, 3}), turn, [3]float64{}, 1)
		_, s := settingOf(t, partOf(t, &kits.Part{ID: "plate", Printed: kits.Resin}, solid), testPrinter("p", kits.Resin, resinBed))
		flat := geom.Vec{turn[0][2], turn[1][2], turn[2][2]} // the plate's own z axis in the model
		if a := degrees(math.Acos(math.Abs(flat.Dot(s.Turn[2])))); a < 25 || a > 65 || s.Foot != 0 || s.Raised != 5 {
			t.Errorf("of resin, its sides are %.0f degrees from the bed; %s", a, s.Why)
		}
		_, s = settingOf(t, partOf(t, &kits.Part{ID: "plate", Printed: kits.Filament}, solid), testPrinter("p", kits.Filament, geom.Vec{200, 200, 200}))
		if a := degrees(math.Acos(min(math.Abs(flat.Dot(s.Turn[2])), 1))); a > 0.1 || math.Abs(s.Foot-4000) > 5 || math.Abs(s.Size[2]-3) > 0.05 {
			t.Errorf("of filament, its sides are %.1f degrees from the bed, it lies on %.0f mm2 and is %.2f mm high; %s", a, s.Foot, s.Size[2], s.Why)
		}
	}
}

// A clear pane stands on its edge, or nearly so: no side of it faces the supports.
func TestClearPaneStands(t *testing.T) {
	solid := meshtest.Box([3]float64{0, 0, 0}, [3]float64{16, 2, 12})
	_, s := settingOf(t, partOf(t, &kits.Part{ID: "pane", Printed: kits.Resin, Paint: "masked"}, solid), testPrinter("p", kits.Resin, resinBed))
	if a := degrees(math.Acos(math.Abs(s.Turn[2][1]))); a < 70 || !strings.Contains(s.Why, "clear") {
		t.Errorf("its sides are %.0f degrees from the bed: %s", a, s.Why)
	}
}

// A small resin part with a foot stands on it; not one that would fall over, nor a clear
// one, nor one that overhangs all round.
func TestSmallPartsStand(t *testing.T) {
	for _, c := range []struct {
		name  string
		paint string
		solid []mesh.Triangle
		foot  bool
	}{
		{"bollard", "", meshtest.Cylinder(3, 0, 8, 40), true},
		{"mast", "", meshtest.Cylinder(1, 0, 25, 40), false},
		{"lens", "masked", meshtest.Cylinder(3, 0, 8, 40), false},
		{"block", "", meshtest.Box([3]float64{0, 0, 0}, [3]float64{20, 20, 20}), false},
		{"cone", "", meshtest.Frustum(3, 1, 0, 8, 40), true},
		{"ball", "", meshtest.Sphere(5, 30, 20), false},
	} {
		_, s := settingOf(t, partOf(t, &kits.Part{ID: c.name, Printed: kits.Resin, Paint: c.paint}, c.solid), testPrinter("p", kits.Resin, resinBed))
		if (s.Foot > 0) != c.foot {
			t.Errorf("%s: %s", c.name, s.Why)
		}
		if c.name == "cone" && s.Turn[2][2] < 0.99 {
			t.Error("the cone stands on its narrow end")
		}
	}
}

// A filament table stands on its top, with nothing over air, and not on its legs; a
// blade does not balance on its edge.
func TestFilamentLies(t *testing.T) {
	table := meshtest.Merge(meshtest.Box([3]float64{0, 0, 20}, [3]float64{60, 40, 24}), meshtest.Box([3]float64{0, 0, 0}, [3]float64{4, 4, 20.01}), meshtest.Box([3]float64{56, 36, 0}, [3]float64{60, 40, 20.01}),
		meshtest.Box([3]float64{0, 36, 0}, [3]float64{4, 40, 20.01}), meshtest.Box([3]float64{56, 0, 0}, [3]float64{60, 4, 20.01}))
	p := testPrinter("p", kits.Filament, geom.Vec{200, 200, 200})
	if _, s := settingOf(t, partOf(t, &kits.Part{ID: "table", Printed: kits.Filament}, table), p); s.Turn[2][2] > -0.99 || math.Abs(s.Foot-2400) > 1 {
		t.Errorf("the table: %s, up is %v", s.Why, s.Turn[2])
	}
	blade := meshtest.Box([3]float64{0, 0, 0}, [3]float64{2, 90, 40})
	if _, s := settingOf(t, partOf(t, &kits.Part{ID: "blade", Printed: kits.Filament}, blade), p); math.Abs(s.Turn[2][0]) < 0.99 {
		t.Errorf("the blade: %s", s.Why)
	}
	if _, s := settingOf(t, partOf(t, &kits.Part{ID: "ball", Printed: kits.Filament}, meshtest.Sphere(20, 60, 40)), p); s.Foot > 20 {
		t.Errorf("the ball: %s", s.Why)
	}
}

// Whatever the part and the printer, a setting lies within the volume, supports and all.
func TestSettingsFit(t *testing.T) {
	rng := rand.New(rand.NewSource(11))
	ways := map[Way]int{}
	for range 150 {
		length := 20 + 180*rng.Float64()
		solid := meshtest.Transform(meshtest.Box([3]float64{0, 0, 0}, [3]float64{length, length * rng.Float64(), 2 + 20*rng.Float64()}), meshtest.RandomRotation(rng), [3]float64{30, -200, 5}, 1)
		process := []string{kits.Resin, kits.Filament}[rng.Intn(2)]
		printer := testPrinter("p", process, geom.Vec{100 + 100*rng.Float64(), 60 + 100*rng.Float64(), 80 + 120*rng.Float64()})
		p := partOf(t, &kits.Part{ID: "box", Printed: process}, solid)
		f, err := look(t.Context(), p)
		if err != nil {
			t.Fatal(err)
		}
		s, fit, err := f.set(t.Context(), printer)
		if err != nil {
			t.Fatal(err)
		}
		ways[fit.Way]++
		if (s == nil) != (fit.Way == TooLarge) {
			t.Fatalf("fits %s, but its setting is %v", fit.Way, s)
		}
		if s == nil {
			continue
		}
		lo, hi := geom.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, geom.Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
		for _, tri := range solid {
			for _, c := range tri {
				q := s.Turn.apply(geom.Point(c))
				for k := range 3 {
					lo[k], hi[k] = min(lo[k], q[k]), max(hi[k], q[k])
				}
			}
		}
		size := hi.Minus(lo)
		v := printer.Volume
		if min(size[0], size[1]) > min(v[0], v[1])+0.002 || max(size[0], size[1]) > max(v[0], v[1])+0.002 || size[2]+s.Raised > v[2]+0.002 {
			t.Errorf("%s: %.2f raised by %g in %v", s.Why, size, s.Raised, v)
		}
		if math.Abs(size[0]-s.Size[0])+math.Abs(size[1]-s.Size[1])+math.Abs(size[2]-s.Size[2]) > 0.01 {
			t.Errorf("said to be %v, is %v", s.Size, size)
		}
	}
	t.Log(ways)
	if ways[TooLarge] < 5 || ways[Straight]+ways[Turned]+ways[Tilted] < 50 {
		t.Errorf("%v: too few of a kind to mean much", ways)
	}
}

// The second of a mirrored pair is set as the mirror image of the first.
func TestPairsAreMirrored(t *testing.T) {
	wedge := meshtest.Extrude([][2]float64{{0, 0}, {60, 0}, {60, 12}, {0, 30}}, nil, 0, 4)
	solid := meshtest.Transform(wedge, matrix(turnOf(20, 10, 5)), [3]float64{0, 40, 10}, 1)
	other := meshtest.Inverted(meshtest.Transform(solid, [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, 1}}, [3]float64{}, 1))
	port, starboard := &kits.Part{ID: "port", Printed: kits.Resin}, &kits.Part{ID: "starboard", Printed: kits.Resin}
	port.Pair, starboard.Pair = starboard, port
	r := Request{Printers: []*kits.Printer{testPrinter("p", kits.Resin, resinBed)}, Materials: []*kits.Material{{ID: "resin", Process: kits.Resin, Density: 1.15}},
		Parts: []*Part{partOf(t, port, solid), partOf(t, starboard, other)}}
	plan, err := Make(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	a, b := plan.Parts[0].Setting.Turn[2], plan.Parts[1].Setting.Turn[2]
	if mirrored(a, 1).Minus(b).Length() > 0.01 {
		t.Errorf("up is %v and %v, which are no mirror images", a, b)
	}
	f, _ := settingOf(t, r.Parts[0], r.Printers[0])
	if mirrorAxis(f, f) >= 0 {
		t.Error("a wedge at an angle is taken for its own mirror image")
	}
}
