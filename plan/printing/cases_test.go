package printing

import (
	"math"
	"strings"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
)

// hullHalf is half a hull, 160 mm long, with its cavity toward +y: a shell 2 mm thick
// with a wall at each end.
func hullHalf() []mesh.Triangle {
	const n = 48
	ring := func(r float64) (list [][2]float64) {
		for i := range n + 1 {
			s, c := math.Sincos(math.Pi * float64(i) / n)
			list = append(list, [2]float64{r * c, -r * s})
		}
		return list
	}
	outer, inner := ring(32), ring(30)
	shell := append([][2]float64{}, outer...)
	for i := range inner {
		shell = append(shell, inner[len(inner)-1-i])
	}
	list := append(meshtest.Prism(shell, 0, 160), meshtest.Prism(outer, -2, 0.01)...)
	list = append(list, meshtest.Prism(outer, 159.99, 162)...)
	return list
}

// Half a hull lies with its outside down or stands on an end, whichever costs less, and
// not with its cavity down, over columns of the whole cavity.
func TestHullHalfLies(t *testing.T) {
	for _, volume := range []geom.Vec{{240, 230, 220}, {240, 230, 120}} {
		f, s := settingOf(t, partOf(t, &kits.Part{ID: "half", Printed: kits.Filament}, hullHalf()), testPrinter("p", kits.Filament, volume))
		cavity, outside := columnsOf(t, f, geom.Vec{0, 1, 0}), columnsOf(t, f, geom.Vec{0, -1, 0})
		if want := 30 * 30 * (math.Pi/4 + 0.5) * 160 / 1000; math.Abs(cavity/want-1) > 0.02 { // under what leans out at less than 45 degrees
			t.Errorf("cavity down it needs %.1f cm3, should be %.1f", cavity, want)
		}
		t.Logf("cavity down %.1f cm3, outside down %.1f cm3; chosen %.1f cm3: %s", cavity, outside, s.Cost.Columns, s.Why)
		if s.Turn[2][1] < -0.5 || s.Cost.Columns > outside+1 {
			t.Errorf("it lies with %v up: %s", s.Turn[2], s.Why)
		}
	}
}

// columnsOf is the room for supports with a side down, cm3.
func columnsOf(t *testing.T, f *facts, down geom.Vec) float64 {
	t.Helper()
	h, err := f.measure(t.Context(), &pose{down: down, onBed: true, held: map[ways]*held{}}, testPrinter("p", kits.Filament, geom.Vec{240, 230, 220}))
	if err != nil {
		t.Fatal(err)
	}
	return h.Need.Columns / 1000
}

// Thin long rails lie flat: in minutes, not standing for hours.
func TestRailsLie(t *testing.T) {
	for _, process := range []string{kits.Resin, kits.Filament} {
		for _, size := range [][3]float64{{84, 2.5, 2}, {120, 4, 3}, {60, 1.5, 1.5}} {
			rail := meshtest.Box([3]float64{0, 0, 0}, size)
			for _, paint := range []string{"", "masked"} { // clear ones too
				_, s := settingOf(t, partOf(t, &kits.Part{ID: "rail", Printed: process, Paint: paint}, rail), testPrinter("p", process, geom.Vec{150, 90, 160}))
				if s.Height() > 12 || s.Time.High > 35*time.Minute {
					t.Errorf("%s rail of %v mm: %.0f mm high, %v; %s", process, size, s.Height(), s.Time.High, s.Why)
				}
			}
		}
	}
}

// mushroom stands on a stem of 14 mm2, its cap 80 mm wide.
func mushroom() []mesh.Triangle {
	return append(meshtest.Cylinder(2.11, 0, 40.01, 60), meshtest.Cylinder(40, 40, 43, 120)...)
}

// A part that the kit makes stand on 14 mm2, over 200 cm3 of columns, does so with a
// caution; left to itself it stands on its cap.
func TestTinyFoot(t *testing.T) {
	of := &kits.Part{ID: "mushroom", Name: "Mushroom", Printed: kits.Filament, Orient: &geom.Vec{0, 0, 1}}
	for _, stated := range []bool{true, false} {
		if !stated {
			of.Orient = nil
		}
		r := Request{Printers: []*kits.Printer{testPrinter("p", kits.Filament, geom.Vec{200, 200, 200})}, Materials: []*kits.Material{{ID: "pla", Process: kits.Filament, Density: 1.24}},
			Parts: []*Part{partOf(t, of, mushroom())}}
		p, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		s := p.Parts[0].Setting
		text := ""
		for _, f := range p.Findings(r.Printers, nil) {
			if f.Kind == plan.Supports {
				text += f.Text
			}
		}
		if stated && (s.Turn[2][2] < 0.99 || math.Abs(s.Need.Foot-14) > 0.5 || math.Abs(s.Cost.Columns-200) > 4 || !strings.Contains(text, "it lies on 14 mm2")) {
			t.Errorf("stated, it stands on %.1f mm2 over %.0f cm3: %q", s.Need.Foot, s.Cost.Columns, text)
		}
		if !stated && (s.Turn[2][2] > -0.99 || text != "") {
			t.Errorf("left to itself, %v is up: %q", s.Turn[2], text)
		}
	}
}

// A wide shallow pan with its bottom up touches the bed along its rim alone, but low
// columns under all of it hold it down: that is how such a part is printed, and is no
// caution. Ten times as deep it is one.
func TestPanBottomUp(t *testing.T) {
	for _, deep := range []float64{8, 80} {
		pan := meshtest.Prism([][2]float64{{0, 0}, {60, 0}, {60, deep + 2}, {59.9, deep + 2}, {59.9, 2}, {0.1, 2}, {0.1, deep + 2}, {0, deep + 2}}, 0, 180)
		of := &kits.Part{ID: "pan", Name: "Pan", Printed: kits.Filament, Orient: &geom.Vec{0, -1, 0}}
		r := Request{Printers: []*kits.Printer{testPrinter("p", kits.Filament, geom.Vec{200, 200, 200})}, Materials: []*kits.Material{{ID: "pla", Process: kits.Filament, Density: 1.24}},
			Parts: []*Part{partOf(t, of, pan)}}
		p, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		said := ""
		for _, f := range p.Findings(r.Printers, nil) {
			if f.Kind == plan.Supports {
				said += f.Text
			}
		}
		if s := p.Parts[0].Setting; (deep > 20) != strings.Contains(said, "may come off the bed") || s.Need.Foot > 40 || s.Need.Area < 10_000 {
			t.Errorf("%g mm deep, on %.0f mm2, %.0f mm2 on supports: %q", deep, s.Need.Foot, s.Need.Area, said)
		}
	}
}

// A face at exactly 45 degrees needs support of resin and not of filament.
func TestJustAtTheAngle(t *testing.T) {
	wedge := meshtest.Transform(meshtest.Prism([][2]float64{{0, 0}, {10, 0}, {30, 20}, {0, 20}}, 0, 15), [3][3]float64{{1, 0, 0}, {0, 0, -1}, {0, 1, 0}}, [3]float64{}, 1)
	for process, want := range map[string]float64{kits.Resin: 15*10 + 15*20*math.Sqrt2, kits.Filament: 0} {
		p := testPrinter("p", process, geom.Vec{150, 90, 160})
		f, err := look(t.Context(), partOf(t, &kits.Part{ID: "wedge", Printed: process}, wedge))
		if err != nil {
			t.Fatal(err)
		}
		h, err := f.measure(t.Context(), &pose{down: geom.Vec{0, 0, -1}, onBed: process == kits.Filament, held: map[ways]*held{}}, p)
		if err != nil || math.Abs(h.Need.Area-want) > 0.02*want+0.1 {
			t.Errorf("%s: %.0f mm2 need support, want %.0f; %v", process, h.Need.Area, want, err)
		}
	}
}

// Supports are part of the mass and time of a plate, by the printer's fill.
func TestSupportsCount(t *testing.T) {
	of := &kits.Part{ID: "mushroom", Printed: kits.Filament, Orient: &geom.Vec{0, 0, 1}}
	var mass, hours [2]float64
	for i, fill := range []float64{0, 0.5} {
		printer := testPrinter("p", kits.Filament, geom.Vec{200, 200, 200})
		printer.Support.Fill = fill
		p, err := Make(t.Context(), Request{Printers: []*kits.Printer{printer}, Materials: []*kits.Material{{ID: "pla", Process: kits.Filament, Density: 1.24}},
			Parts: []*Part{partOf(t, of, mushroom())}})
		if err != nil {
			t.Fatal(err)
		}
		mass[i], _ = p.Plates[0].Mass()
		hours[i] = p.Plates[0].Takes.High.Hours()
	}
	printed := 0.5 * (40*40 - 2.11*2.11) * math.Pi * 40 // mm3
	if got, want := mass[1]-mass[0], printed/1000*1.24; math.Abs(got/want-1) > 0.02 {
		t.Errorf("supports of half the room weigh %.1f g, want %.1f", got, want)
	}
	if got, want := hours[1]-hours[0], printed/8*1.6/3600; math.Abs(got/want-1) > 0.02 {
		t.Errorf("and take %.2f h, want %.2f", got, want)
	}
}

// What was measured is used again for the same mesh and rules only, and what is kept
// can be read again.
func TestKnown(t *testing.T) {
	set := func(known *Known, angle float64, list []mesh.Triangle) *Setting {
		printer := testPrinter("p", kits.Resin, geom.Vec{150, 90, 160})
		printer.Support.Angle = angle
		p, err := Make(t.Context(), Request{Printers: []*kits.Printer{printer}, Materials: []*kits.Material{{ID: "resin", Process: kits.Resin, Density: 1.15}},
			Parts: []*Part{partOf(t, &kits.Part{ID: "ball", Printed: kits.Resin, Orient: &geom.Vec{0, 0, 1}}, list)}, Known: known})
		if err != nil {
			t.Fatal(err)
		}
		return p.Parts[0].Setting
	}
	ball := meshtest.Sphere(8, 60, 40)
	known := NewKnown(nil)
	first := set(known, 45, ball)
	data, err := known.Keep(false)
	if err != nil || data == nil {
		t.Fatal(data, err)
	}
	again := NewKnown(data)
	if s := set(again, 45, ball); s.Need != first.Need || s.Cost != first.Cost {
		t.Errorf("%+v, known %+v", first.Need, s.Need)
	}
	if data, _ := again.Keep(false); data != nil {
		t.Error("it was measured again")
	}
	if s := set(again, 30, ball); s.Need.Area >= first.Need.Area {
		t.Errorf("for 30 degrees %.0f mm2, for 45 %.0f", s.Need.Area, first.Need.Area)
	}
	if s := set(again, 45, meshtest.Sphere(9, 60, 40)); s.Need.Area <= first.Need.Area {
		t.Error("another ball is taken for the first")
	}
}

// The kit's orient points up, on either process, and its face is what is visible.
func TestStated(t *testing.T) {
	for _, process := range []string{kits.Resin, kits.Filament} {
		up := geom.Vec{1, 2, 3}.Unit()
		of := &kits.Part{ID: "block", Printed: process, Orient: &geom.Vec{10, 20, 30}}
		_, s := settingOf(t, partOf(t, of, meshtest.Box([3]float64{0, 0, 0}, [3]float64{20, 20, 20})), testPrinter("p", process, geom.Vec{150, 90, 160}))
		if s.Turn[2].Dot(up) < 0.99999 || !strings.Contains(s.Why, "as the kit states") || len(s.Others) > 0 {
			t.Errorf("%s: up is %v, want %v; %s", process, s.Turn[2], up, s.Why)
		}
	}
	box := partOf(t, &kits.Part{ID: "block", Printed: kits.Resin, Orient: &geom.Vec{0, 0, 1}, Face: &geom.Vec{0, 0, -2}}, meshtest.Box([3]float64{0, 0, 0}, [3]float64{20, 20, 20}))
	for face, want := range map[float64]float64{-2: 400, 2: 0} {
		box.Of.Face[2] = face
		set, err := facingSet(t.Context(), box.Surface, box.Of.Face.Unit())
		if err != nil {
			t.Fatal(err)
		}
		box.Seen = set.Has
		if _, s := settingOf(t, box, testPrinter("p", kits.Resin, geom.Vec{150, 90, 160})); math.Abs(s.Need.Visible-want) > 1 || math.Abs(s.Need.Area-400) > 1 {
			t.Errorf("facing %g, %.0f of %.0f mm2 are visible, want %.0f", face, s.Need.Visible, s.Need.Area, want)
		}
	}
}

// A solid block of resin could be hollowed, with holes on the side that is hidden; a
// thin plate and a clear block could not.
func TestHollowing(t *testing.T) {
	for _, c := range []struct {
		name  string
		of    *kits.Part
		solid []mesh.Triangle
		saves float64
	}{
		{"block", &kits.Part{ID: "block", Printed: kits.Resin}, meshtest.Box([3]float64{0, 0, 0}, [3]float64{30, 30, 30}), 25 * 25 * 25},
		{"lens", &kits.Part{ID: "lens", Printed: kits.Resin, Paint: "masked"}, meshtest.Box([3]float64{0, 0, 0}, [3]float64{30, 30, 30}), 0},
		{"plate", &kits.Part{ID: "plate", Printed: kits.Resin}, meshtest.Box([3]float64{0, 0, 0}, [3]float64{80, 60, 4}), 0},
	} {
		part := partOf(t, c.of, c.solid)
		part.Seen = func(i int) bool { return i > 1 } // all but one side
		p, err := Make(t.Context(), Request{Printers: []*kits.Printer{testPrinter("p", kits.Resin, geom.Vec{150, 90, 160})},
			Materials: []*kits.Material{{ID: "resin", Process: kits.Resin, Density: 1.2}}, Parts: []*Part{part}})
		if err != nil {
			t.Fatal(err)
		}
		h := p.Parts[0].Hollow
		if (h != nil) != (c.saves > 0) {
			t.Fatalf("%s: %+v", c.name, h)
		}
		if h == nil {
			continue
		}
		tri := c.solid[0]
		n := geom.Point(tri[1]).Minus(geom.Point(tri[0])).Cross(geom.Point(tri[2]).Minus(geom.Point(tri[0])))
		if math.Abs(h.Saves/c.saves-1) > 0.05 || math.Abs(h.Mass-1.2*h.Saves/1000) > 1e-9 || h.Hidden != sideOf(n.Unit()) {
			t.Errorf("%s: %+v, should save %.0f mm3, with holes toward %s", c.name, h, c.saves, sideOf(n.Unit()))
		}
	}
}

// A tall thin peg of filament that the kit makes stand is a caution, as is a pocket of
// resin, whichever way it opens.
func TestHeldFindings(t *testing.T) {
	cup := meshtest.Lathe([][2]float64{{0, 0}, {22, 0}, {22, 30}, {20, 30}, {20, 2}, {0, 2}}, 60)
	for _, c := range []struct {
		name, process string
		up            geom.Vec
		solid         []mesh.Triangle
		want          string
	}{
		{"peg", kits.Filament, geom.Vec{0, 0, 1}, append(meshtest.Box([3]float64{-10, -10, 0}, [3]float64{10, 10, 3}), meshtest.Cylinder(1.5, 2.9, 30, 40)...), "thin pegs that stand across the layers"},
		{"mast", kits.Filament, geom.Vec{0, 0, 1}, meshtest.Cylinder(3, 0, 90, 40), "may fall over"},
		{"cup", kits.Resin, geom.Vec{0, 0, 1}, cup, "opens only away from the bed"},
		{"bell", kits.Resin, geom.Vec{0, 0, -1}, cup, "opens only towards the bed"},
	} {
		r := Request{Printers: []*kits.Printer{testPrinter("p", c.process, geom.Vec{150, 90, 160})}, Materials: []*kits.Material{{ID: kits.PlainMaterial(c.process), Process: c.process, Density: 1.2}},
			Parts: []*Part{partOf(t, &kits.Part{ID: c.name, Printed: c.process, Orient: &c.up}, c.solid)}}
		p, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		said := false
		for _, f := range p.Findings(r.Printers, nil) {
			said = said || f.Kind == plan.Supports && strings.Contains(f.Text, c.want)
		}
		if !said {
			t.Errorf("%s: nothing says %q; %+v", c.name, c.want, p.Parts[0].Setting.Cost)
		}
	}
}

// A part that fits only otherwise than the kit states is planned so, and that is said.
func TestStatedDoesNotFit(t *testing.T) {
	r := Request{Printers: []*kits.Printer{testPrinter("low", kits.Filament, geom.Vec{200, 200, 50})}, Materials: []*kits.Material{{ID: "pla", Process: kits.Filament, Density: 1.2}},
		Parts: []*Part{partOf(t, &kits.Part{ID: "post", Printed: kits.Filament, Orient: &geom.Vec{0, 0, 1}}, meshtest.Box([3]float64{0, 0, 0}, [3]float64{20, 20, 120}))}}
	p, err := Make(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	said := ""
	for _, f := range p.Findings(r.Printers, nil) {
		if f.Kind == plan.Supports {
			said += f.Text
		}
	}
	if !strings.Contains(said, "does not fit low with the side up that the kit states") {
		t.Errorf("%q; it lies with %v up", said, p.Parts[0].Setting.Turn[2])
	}
}

// Every term of the cost counts, as its weight says, and every weight has its source.
func TestWeights(t *testing.T) {
	c := Cost{Hours: 1, Columns: 2, Trapped: 3, Seen: 4, Hidden: 5, Layer: 6, Growth: 7, Holds: 8, Sucks: 9, Islands: 10, Height: 11, Unsteady: 1, Footless: 1, Thin: 12, Bed: 13}
	want := map[string]float64{
		kits.Resin:    0.6*1 + 0.004*2 + 0.2*3 + 0.017*4 + 0.005*5 + 0.06*6 + 0.08*7 + 0.02*8 + 0.05*9 + 0.02*10 + 2 + 0.006*13,
		kits.Filament: 1 + 0.004*2 + 0.2*3 + 0.017*4 + 0.005*5 + 0.02*10 + 0.02*11 + 2 + 0.5 + 0.3*12 + 0.002*13,
	}
	for process, total := range want {
		if c.sum(process, 1); math.Abs(c.Total-total) > costStep {
			t.Errorf("%s: %g h, want %g", process, c.Total, total)
		}
	}
	for _, w := range Weights {
		if !strings.HasPrefix(w.Source, "ours") && !strings.HasPrefix(w.Source, "common practice") || w.Unit == "" {
			t.Errorf("%s: %q", w.Term, w.Source)
		}
	}
}
