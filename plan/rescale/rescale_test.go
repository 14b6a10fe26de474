package rescale_test

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/health"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/plantest"
	"dryfit/plan/rescale"
)

// shapes are the meshes of a kit.
type shapes map[string][]mesh.Triangle

// collection has the shapes as meshes, examined.
func (s shapes) collection() *mesh.Collection {
	if s == nil {
		return nil
	}
	meshes, examined := map[string]*mesh.Mesh{}, map[string]*mesh.Health{}
	for id, list := range s {
		m, err := mesh.FromTriangles(id, list)
		if err == nil {
			meshes[id] = m
			examined[id], err = health.Examine(context.Background(), m, health.Options{Walls: true})
		}
		if err != nil {
			panic(err)
		}
	}
	return meshtest.Collection(meshes, examined)
}

// at makes a report of a kit without geometry of its own.
func at(t *testing.T, scale, text string, s shapes) *rescale.Report {
	t.Helper()
	was := plantest.Check(t, text)
	was.Meshes = s.collection()
	return rescaled(t, was, []byte(text), scale)
}

func (w want) in(t *testing.T, r *rescale.Report) {
	t.Helper()
	if slices.ContainsFunc(r.Findings, w.is) {
		return
	}
	t.Errorf("at %s no %s of kind %s says %q; there are:", r.Scaling, w.grade, w.kind, w.says)
	for _, f := range r.Findings {
		t.Logf("%s, %s %s: %s", f.Grade, f.Kind, f.Piece, whole(f))
	}
}

func none(t *testing.T, r *rescale.Report, kind string, g plan.Grade) {
	t.Helper()
	for _, f := range r.Findings {
		if f.Kind == kind && f.Grade == g {
			t.Errorf("at %s: %s, %s: %s", r.Scaling, f.Grade, f.Kind, whole(f))
		}
	}
}

const pocketKit = `kit: Pocket
scale: "1:32"
parts:
  plate: {printed: filament}
  cover: {printed: filament}
  disc: {bought: true, fixed-size: true, quantity: 2}
joins:
  - {fit: disc.1, to: plate, with: epoxy}
  - {fit: disc.2, to: cover, with: epoxy}
  - {fit: cover, to: plate, with: magnet}
`

// pockets are a plate and a cover with round pockets, and a disc in each.
func pockets(pocket, disc float64) shapes {
	square := [][2]float64{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}}
	hole := meshtest.Circle([2]float64{}, pocket/2, 96)
	half := meshtest.Pocket(square, hole, 0, 3, 5.2)
	flip := [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}
	return shapes{
		"plate": half, "cover": meshtest.Transform(half, flip, [3]float64{0, 0, 10.4}, 1),
		"disc.1": meshtest.Cylinder(disc/2, 3, 5, 96), "disc.2": meshtest.Cylinder(disc/2, 5.4, 7.4, 96),
	}
}

// A pocket of 5.2 mm for a disc of 5 becomes 3.47 at two thirds and 6.93 at four thirds;
// two pockets 2.2 mm deep leave two discs of 2 mm 0.4 mm now, and 1.07 too little.
func TestSeats(t *testing.T) {
	small := at(t, "1:48", pocketKit, pockets(5.2, 5))
	want{rescale.Seating, plan.Fault, "disc.1", []string{"disc (2 copies) keeps its size", "along x plate leaves it 5.2 mm now and 3.47 mm at 1:48; disc.1 takes 5 mm",
		"along z plate and cover leave it 4.4 mm now and 2.93 mm at 1:48", "with disc", "takes 4 mm", "at most 3.46 mm along x"}}.in(t, small)
	large := at(t, "1:24", pocketKit, pockets(5.2, 5))
	want{rescale.Seating, plan.Caution, "disc.1", []string{"sits loose at 1:24", "5.2 mm now and 6.93 mm"}}.in(t, large)
	none(t, large, rescale.Seating, plan.Fault)
	for _, ok := range []*rescale.Report{
		at(t, "1:32", pocketKit, pockets(5.2, 5)),
		at(t, "1:31", pocketKit, pockets(5.2, 5)),
	} {
		none(t, ok, rescale.Seating, plan.Fault)
		none(t, ok, rescale.Seating, plan.Caution)
	}
	// What is proposed mends it: a disc of 3.4 mm, and thinner.
	mended := pockets(5.2, 3.4)
	mended["disc.1"], mended["disc.2"] = meshtest.Cylinder(1.7, 3.55, 4.45, 96), meshtest.Cylinder(1.7, 5.95, 6.85, 96)
	none(t, at(t, "1:48", pocketKit, mended), rescale.Seating, plan.Fault)
}

// Without meshes the pocket that the kit states is held against the size of the magnet.
func TestPocketsBySize(t *testing.T) {
	text := `kit: Magnet
scale: "1:32"
parts:
  plate: {printed: filament, size: [40, 40, 5]}
  disc: {bought: true, fixed-size: true, quantity: 2, size: [5, 5, 2]}
joins: [{fit: disc, to: plate, with: epoxy}]
magnets: [{magnet: disc, north: [0, 0, 1], pocket: [5.2, 2.2]}]
`
	want{rescale.Seating, plan.Fault, "disc.1", []string{"its pocket of 5.2 x 2.2 mm is 3.47 x 1.47 mm at 1:48, and it is 5 x 2 mm"}}.in(t, at(t, "1:48", text, nil))
	large := at(t, "1:24", text, nil)
	want{rescale.Seating, plan.Caution, "disc.1", []string{"sits loose at 1:24", "6.93 x 2.93 mm"}}.in(t, large)
	none(t, large, rescale.Seating, plan.Fault)
	none(t, at(t, "1:32", text, nil), rescale.Seating, plan.Caution)
}

// Blocks in holes of random sizes: a block fits at a scale exactly if it is no larger
// than the hole is then, along both axes.
func TestRandomSeats(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 4))
	text := "kit: Holes\nscale: \"1:100\"\nparts: {frame: {printed: resin}, block: {bought: true, fixed-size: true}}\njoins: [{fit: block, to: frame}]\n"
	for range kitstest.Rounds(t, 200, 60) {
		w, d := 4+20*rng.Float64(), 4+20*rng.Float64()
		a, b := w*(0.5+0.5*rng.Float64()), d*(0.5+0.5*rng.Float64())
		x, y := 5*rng.Float64(), 5*rng.Float64()
		frame := meshtest.Extrude([][2]float64{{x - 40, y - 40}, {x + 40, y - 40}, {x + 40, y + 40}, {x - 40, y + 40}},
			[][][2]float64{{{x - w/2, y - d/2}, {x + w/2, y - d/2}, {x + w/2, y + d/2}, {x - w/2, y + d/2}}}, 0, 6)
		block := meshtest.Box([3]float64{x - a/2, y - b/2, 1}, [3]float64{x + a/2, y + b/2, 5})
		to := 100 + 100*rng.Float64()
		f := 100 / to
		spare := math.Min(f*w-a, f*d-b)
		if math.Abs(spare) < 0.05 {
			continue
		}
		rep := at(t, fmt.Sprintf("1:%.4f", to), text, shapes{"frame": frame, "block": block})
		if got := !rep.OK(); got != (spare < 0) {
			t.Fatalf("a block of %.2f x %.2f in a hole of %.2f x %.2f, %.2f x: fault is %v, spare %.2f", a, b, w, d, f, got, spare)
		}
	}
}

// Walls of a box with a pocket; limits are those of the processes (common practice: 0.5
// mm for resin to hold, 1.0 advised; 0.8 for two lines of filament, 1.2 advised).
func TestWalls(t *testing.T) {
	box := func(wall float64) shapes {
		outer := [][2]float64{{0, 0}, {20, 0}, {20, 20}, {0, 20}}
		inner := [][2]float64{{wall, wall}, {20 - wall, wall}, {20 - wall, 20 - wall}, {wall, 20 - wall}}
		return shapes{"tub": meshtest.Pocket(outer, inner, 0, wall, 10)}
	}
	kit := func(process string) string {
		return "kit: Tub\nscale: \"1:10\"\nparts: {tub: {printed: " + process + "}}\n"
	}
	for _, c := range []struct {
		process string
		wall    float64
		scale   string
		want    []want
	}{
		{"resin", 1, "40%", []want{{rescale.Walls, plan.Fault, "tub", []string{"tub: 1 mm becomes 0.4 mm at x", "make it at least 0.5 mm, 1.25 mm as it is drawn now"}}}},
		{"resin", 1, "60%", []want{
			{rescale.Walls, plan.Caution, "tub", []string{"1 mm becomes 0.6 mm at x", "advised are 1 mm (common practice)"}},
			{rescale.Walls, plan.Caution, "tub", []string{"walls of 1 mm become 0.6 mm; advised are 1 mm (common practice)"}}}},
		{"filament", 1.6, "40%", []want{{rescale.Walls, plan.Fault, "tub", []string{"1.6 mm becomes 0.64 mm", "at least 0.8 mm, 2 mm as it is drawn now"}}}},
		{"filament", 1.6, "66.67%", []want{{rescale.Walls, plan.Caution, "tub", []string{"walls of 1.6 mm become 1.07 mm; advised are 1.2 mm (common practice)"}}}},
		{"resin", 0.4, "50%", []want{{rescale.Walls, plan.Note, "", []string{"too thin to hold at the present scale already, and here too: tub"}}}},
		{"resin", 1, "500%", nil},
		{"filament", 2, "100%", nil},
		// Larger parts ask for more, but what was thin before is not told anew.
		{"resin", 1.2, "450%", nil},
		{"resin", 0.4, "600%", nil},
		{"resin", 1.05, "180%", nil},
	} {
		rep := at(t, c.scale, kit(c.process), box(c.wall))
		for _, w := range c.want {
			w.in(t, rep)
		}
		if len(c.want) == 0 {
			none(t, rep, rescale.Walls, plan.Fault)
			none(t, rep, rescale.Walls, plan.Caution)
		}
		if breaks := len(c.want) > 0 && c.want[0].grade == plan.Fault; breaks == rep.OK() {
			t.Errorf("%s, %g mm at %s: OK is %v", c.process, c.wall, c.scale, rep.OK())
		}
	}
}

// Walls of long parts of resin, by the rule in stiffWall: a flat strip of 1.15 g/cm3 and
// 2 GPa on its two ends sags a 300th of its length, so t = 0.000514 L^1.5 in mm, to 0.1
// mm. The shape of a part does not count, only its longest side.
func TestStiffWalls(t *testing.T) {
	const kit = "kit: Plate\nscale: \"1:10\"\nparts: {plate: {printed: resin}}\n"
	plate := func(length, width, thick float64) shapes {
		return shapes{"plate": meshtest.Box([3]float64{}, [3]float64{length, width, thick})}
	}
	for _, c := range []struct {
		length, width, thick float64
		says                 string
	}{
		{100, 100, 0.6, ""}, // 150 mm need 0.9: 1 is asked for, and was not there before
		{150, 20, 1.1, "walls of 1.1 mm become 1.65 mm; advised are 1.7 mm (our own rule, by the longest side)"},  // 225 mm
		{150, 150, 1.1, "walls of 1.1 mm become 1.65 mm; advised are 1.7 mm (our own rule, by the longest side)"}, // 225 mm
		{150, 20, 1.2, ""}, // 1.8 mm
		{200, 20, 1.6, "walls of 1.6 mm become 2.4 mm; advised are 2.7 mm (our own rule, by the longest side)"}, // 300 mm
		{200, 20, 1.8, ""}, // 2.7 mm
		{200, 20, 1.4, ""}, // 200 mm need 1.5: too thin before
	} {
		rep := at(t, "150%", kit, plate(c.length, c.width, c.thick))
		if c.says == "" {
			none(t, rep, rescale.Walls, plan.Caution)
			continue
		}
		want{rescale.Walls, plan.Caution, "plate", []string{c.says}}.in(t, rep)
	}
}

// Holes scale and wires do not: 2.2 mm in 4 mm fill 30 %, and 68 % of the hole at two
// thirds; at a half the wire does not pass.
func TestLeads(t *testing.T) {
	text := `kit: Lead
scale: "1:32"
parts: {wall: {size: [2, 40, 40]}, lamp: {size: [3, 3, 3]}, clip: {size: [3, 3, 3]}}
joins: [{fit: lamp, to: wall}, {fit: clip, to: wall}]
wires:
  - {wire: thick, from: clip, to: lamp, through: wall, across: 2.2, hole: 4, bare: true}
  - {wire: thin, from: clip, to: lamp, through: wall, across: 1.1, hole: 4, bare: true}
  - {wire: thinner, from: clip, to: lamp, through: wall, across: 1.1, hole: 4, bare: true}
`
	two := at(t, "1:48", text, nil)
	want{plan.WireEnd, plan.Caution, "", []string{"thick becomes tight", "2.2 mm across in 2.67 mm, 68 % full instead of 30 %", "at least 3.2 mm"}}.in(t, two)
	want{plan.WireEnd, plan.Caution, "wall", []string{"thick, thin and thinner go through wall", "102 % full instead of 45 %"}}.in(t, two)
	half := at(t, "1:64", text, nil)
	want{plan.WireEnd, plan.Fault, "", []string{"thick cannot be threaded: it is 2.2 mm across and a hole of its run is 2 mm"}}.in(t, half)
	none(t, at(t, "1:30", text, nil), plan.WireEnd, plan.Caution)
}

// Fits follow the clearance on each side (common practice, see the package): 0.4 mm of a
// lid become 0.27 at two thirds, and bind at a third. Room to spare in openings stays.
func TestClearances(t *testing.T) {
	text := `kit: Lid
scale: "1:32"
clearance: 0.8
parts:
  tub: {printed: filament, size: [80, 60, 30]}
  lid: {printed: filament, size: [61.2, 37.2, 3]}
  block: {printed: filament, size: [30, 20, 10]}
  cell: {bought: true, fixed-size: true, size: [30, 30, 10]}
joins:
  - {fit: block, to: tub, with: ca}
  - {fit: cell, to: tub, with: loose}
  - {fit: lid, to: tub, with: magnet}
spaces:
  inside: {closed-by: [{piece: lid, opening: [62, 38], facing: z}], holds: [block, cell]}
`
	two := at(t, "1:48", text, nil)
	want{rescale.Clearances, plan.Note, "", []string{"lid has 0.4 mm on each side", "0.27 mm at 1:48: sliding, and was loose"}}.in(t, two)
	want{plan.Unreachable, plan.Fault, "cell", []string{"30 x 30 x 28 mm", "41.33 x 25.33"}}.in(t, at(t, "1:48", strings.Replace(text, "[30, 30, 10]", "[30, 30, 28]", 1), nil))
	want{plan.Turning, plan.Caution, "cell", []string{"only by turning"}}.in(t, two)
	third := at(t, "1:96", text, nil)
	want{rescale.Clearances, plan.Caution, "lid", []string{"0.13 mm at 1:96: tight, and was loose", "keep the gap of 0.4 mm"}}.in(t, third)
	none(t, at(t, "1:32", text, nil), rescale.Clearances, plan.Note)
}
