package plan_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// axes are the directions of leaving in these tests.
var axes = []string{"+x", "-x", "+y", "-y", "+z", "-z"}

var axisDirections = []geom.Vec{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}}

// A bench holds a kit and what was measured of it.
type bench struct {
	kit *kits.Kit
	g   *plan.Geometry
}

// setUp reads a kit whose pieces are all measured, 10 mm wide, and touch. Each
// line of ways says what a piece meets when it leaves: "lid +x -z: box". What it
// meets meets it the opposite way.
func setUp(t *testing.T, text, ways string) *bench {
	t.Helper()
	kit := kitstest.Read(t, "kit: Test\n"+text)
	n := len(kit.Pieces)
	g := &plan.Geometry{Measured: slices.Repeat([]bool{true}, n), Sizes: slices.Repeat([][3]float64{{10, 10, 10}}, n),
		Directions: axisDirections, Legs: map[int][]plan.Legs{}, Undercuts: map[int][]plan.Undercut{},
		Resolution: .1, Near: .1, Hit: func(piece, other, direction int) float64 { return 2 }}
	for range axes {
		g.InTheWay = append(g.InTheWay, make([][]int32, n))
	}
	for a := range n {
		for b := a + 1; b < n; b++ {
			g.Touching = append(g.Touching, plan.Touch{A: a, B: b, Contact: 20})
		}
	}
	w := &bench{kit, g}
	for line := range strings.Lines(ways) {
		leaves, meets, said := strings.Cut(strings.TrimSpace(line), ":")
		if !said {
			continue
		}
		words := strings.Fields(leaves)
		for _, axis := range words[1:] {
			for _, other := range strings.Fields(meets) {
				d, p, q := slices.Index(axes, axis), w.piece(t, words[0]), w.piece(t, other)
				g.InTheWay[d][p] = insert(g.InTheWay[d][p], int32(q))
				g.InTheWay[d^1][q] = insert(g.InTheWay[d^1][q], int32(p))
			}
		}
	}
	return w
}

func (b *bench) piece(t *testing.T, id string) int {
	t.Helper()
	i := slices.IndexFunc(b.kit.Pieces, func(p kits.Piece) bool { return p.ID == id })
	if i < 0 {
		t.Fatalf("no piece %s", id)
	}
	return i
}

func (b *bench) check(t *testing.T) *plan.Project {
	t.Helper()
	rep, err := explain.CheckMeasured(b.kit, b.g)
	if err != nil {
		t.Fatal(err)
	}
	return rep
}

// wantOrder asks for no fault, and for the first of each two steps before the second.
func wantOrder(t *testing.T, rep *plan.Project, names ...string) {
	t.Helper()
	if !rep.OK() || rep.Sequence == nil {
		t.Fatalf("no sequence:\n%s", listed(rep.Findings))
	}
	place := map[string]int{}
	for v, s := range rep.Constraints.Steps {
		for _, name := range stepAndPieces(rep.Kit.Pieces, s.Join, s.Wire, s.Task) {
			place[name] = rep.Sequence.Place[v]
		}
	}
	for i, name := range names[1:] {
		if place[names[i]] == 0 || place[names[i]] >= place[name] {
			t.Errorf("%s is step %d and %s is step %d", names[i], place[names[i]], name, place[name])
		}
	}
}

// wantFinding asks for a finding with a text, a reason and a repair in it; an empty
// one of these asks for nothing.
func wantFinding(t *testing.T, rep *plan.Project, kind string, grade plan.Grade, piece, text, because, repair string) {
	t.Helper()
	f := find(rep.Findings, kind, piece)
	if f == nil || f.Grade != grade || !strings.Contains(f.Text, text) || because != "" && !anyReason(f.Because, because) || repair != "" && !anyRepair(f.Repairs, repair) {
		t.Errorf("want %s %s of %s with %q because %q, repair %q, among\n%s", grade, kind, piece, text, because, repair, listed(rep.Findings))
	}
	if rep.OK() == (grade == plan.Fault) || (rep.Sequence != nil) != rep.OK() {
		t.Errorf("OK is %v, a sequence: %v, with\n%s", rep.OK(), rep.Sequence != nil, listed(rep.Findings))
	}
}

func wantNoFinding(t *testing.T, rep *plan.Project) {
	t.Helper()
	if len(rep.Findings) > 0 {
		t.Errorf("findings:\n%s", listed(rep.Findings))
	}
}

// A box open at the top, a seat in it and a lid on it. The file has the lid first.
const (
	boxKit = `parts: {box: {}, lid: {}, seat: {}}
joins:
  - {fit: lid, to: box}
  - {fit: seat, to: box}
`
	boxWays = `seat +x -x +y -y -z: box
		seat +z: lid
		lid -z: box`
)

func TestWhatIsUnderTheLidGoesInFirst(t *testing.T) {
	b := setUp(t, boxKit, boxWays)
	rep := b.check(t)
	wantNoFinding(t, rep)
	wantOrder(t, rep, "seat", "lid")
	for v, s := range rep.Constraints.Steps {
		if s.Join.Pieces[0] != b.piece(t, "seat") {
			continue
		}
		if d := rep.Constraints.Toward(v); d == nil || *d != [3]float64{0, 0, -1} {
			t.Errorf("the seat travels toward %v", d)
		}
	}
	if rep := checked(t, "kit: Test\n"+boxKit); rep.Sequence == nil {
		t.Error("no sequence without measurements")
	}
}

// Each fault, and the kit with the repair that is offered carried out.
var travelFaults = []struct {
	name, kit, ways string
	piece, text     string
	because, repair string
	mended          string // of old text to new
	order           []string
}{
	{"toward the wrong side", strings.Replace(boxKit, "seat, to: box", "seat, to: box, toward: [0, 0, 1]", 1), boxWays,
		"seat", "cannot travel toward +z", "toward +z box is in the way of seat, 2 mm", "let seat travel toward -z",
		"[0, 0, 1] -> [0, 0, -1]", []string{"seat", "lid"}},
	{"asked for after the lid", strings.Replace(boxKit, "seat, to: box", "seat, to: box, after: lid", 1), boxWays,
		"seat", "cannot travel to its seat in any order", "lid is in its way, 2 mm", `drop "lid" from after`,
		", after: lid -> ", []string{"seat", "lid"}},
	// The knob is under the lid's rim, which leaves room only on the bench.
	{"in place too soon", `parts: {box: {}, lid: {}, knob: {}}
joins:
  - {fit: lid, to: box}
  - {fit: knob, to: lid}
`, "knob +x -x +y -y +z: lid\nknob -z: box\nlid -z: box",
		"knob", "cannot travel to its seat in any order", "box is in its way", "build lid up on the bench first",
		"lid, to: box -> lid, to: box, bench: true", []string{"knob", "lid"}},
	{"halves closed from the wrong side", `parts: {left: {}, right: {}}
joins:
  - {close: [left, right], step: closing, toward: [0, 0, 1]}
`, "right +y -y +z -z -x: left",
		"right", "cannot travel toward +z", "left is in the way of right", "let right travel toward -x",
		"[0, 0, 1] -> [-1, 0, 0]", []string{"closing"}},
}

func TestFaultsOfTravel(t *testing.T) {
	for _, c := range travelFaults {
		t.Run(c.name, func(t *testing.T) {
			wantFinding(t, setUp(t, c.kit, c.ways).check(t), plan.Blocked, plan.Fault, c.piece, c.text, c.because, c.repair)
			old, now, _ := strings.Cut(c.mended, " -> ")
			rep := setUp(t, kitstest.Replace(t, c.kit, old, now), c.ways).check(t)
			wantNoFinding(t, rep)
			wantOrder(t, rep, c.order...)
		})
	}
}

// The reasons of a seat that comes too late name both sides of the matter.
func TestReasonsOfWhatComesTooLate(t *testing.T) {
	rep := setUp(t, strings.Replace(boxKit, "seat, to: box", "seat, to: box, after: lid", 1), boxWays).check(t)
	if f := find(rep.Findings, plan.Blocked, "seat"); f == nil || len(f.Because) != 2 || !anyReason(f.Because, "seat is asked to come after lid") {
		t.Errorf("want the lid in the way and the after as reasons, got\n%s", listed(rep.Findings))
	}
}

const unitKit = `parts: {hull: {}, wing: {}, engine: {}}
joins:
  - {fit: engine, to: wing}
  - {fit: wing, to: hull, bench: true}
`

// The wing slides in along y, with all that is on it by then.
func TestUnitMovesAsOne(t *testing.T) {
	const ways = "wing +x -x +z -z -y: hull\nengine +x -x +y -y -z: wing\n"
	t.Run("what the unit cannot pass comes later", func(t *testing.T) {
		wantOrder(t, setUp(t, unitKit, ways+"engine +y: hull").check(t), "wing", "engine")
	})
	t.Run("what the hull covers comes sooner", func(t *testing.T) {
		wantOrder(t, setUp(t, unitKit, ways+"engine +z: hull").check(t), "engine", "wing")
	})
	t.Run("both ways shut", func(t *testing.T) {
		rep := setUp(t, unitKit, ways+"engine +y +z: hull").check(t)
		wantFinding(t, rep, plan.Blocked, plan.Fault, "wing", "in any order", "hull is in the way of engine, which goes with it", "")
	})
	t.Run("the wing has no mesh", func(t *testing.T) {
		b := setUp(t, unitKit, "engine +x -x +y -y +z -z: hull")
		b.g.Measured[b.piece(t, "wing")] = false
		wantFinding(t, b.check(t), plan.Blocked, plan.Fault, "wing", "in any order", "hull is in the way of engine, which goes with it", "")
	})
}

func TestClosingHalves(t *testing.T) {
	const kit = `parts: {left: {}, right: {}, floor: {}, mast: {}}
joins:
  - {close: [left, right], step: closing, toward: %}
  - {fit: mast, to: left, after: closing}
  - {fit: floor, to: left}
`
	const ways = "right +y -y +z -z -x: left\nfloor +y -y +z -z -x: left\nfloor +x: right\nmast -x +x: left right"
	for _, toward := range []string{"[1, 0, 0]", "[-3, 0, 0]"} { // either half may be the one that moves
		rep := setUp(t, strings.Replace(kit, "%", toward, 1), ways).check(t)
		wantNoFinding(t, rep)
		wantOrder(t, rep, "floor", "closing", "mast")
	}
}

func TestCopiesOfOneStepDoNotHinder(t *testing.T) {
	const kit = `parts: {hull: {}, seat: {quantity: 2}}
joins:
`
	const ways = "seat.1 +x -x +y -y +z: seat.2\nseat.1 -z: hull\nseat.2 -z: hull"
	wantNoFinding(t, setUp(t, kit+"  - {fit: seat, to: hull}\n", ways).check(t))
	rep := setUp(t, kit+"  - {fit: seat.1, to: hull, after: seat.2}\n  - {fit: seat.2, to: hull}\n", ways).check(t)
	wantFinding(t, rep, plan.Blocked, plan.Fault, "seat.1", "in any order", "seat.2 is in its way", `drop "seat.2" from after`)
}

// The rack goes in under the coaming: up to the opening and out sideways.
func TestWayOfSeveralLegs(t *testing.T) {
	const kit = `parts: {hull: {}, lid: {}, rack: {}}
joins:
  - {fit: lid, to: hull}
  - {fit: rack, to: hull}
`
	const ways = "rack +x -x +y -y +z -z: hull\nlid -z: hull"
	b := setUp(t, kit, ways)
	rep := b.check(t)
	wantFinding(t, rep, plan.Blocked, plan.Fault, "rack", "straight into its seat in any of 6 directions", "hull is in the way of rack", "")
	stalls := rep.Stalled()
	rack, hull, lid := b.piece(t, "rack"), b.piece(t, "hull"), b.piece(t, "lid")
	if len(stalls) != 1 || stalls[0].Piece != rack || !slices.Equal(stalls[0].Others, []int{hull}) || !slices.Equal(stalls[0].Directions, []int{0, 1, 2, 3, 4, 5}) {
		t.Errorf("stalled: %+v, want the rack, past the hull", stalls)
	}
	out := plan.Legs{Legs: []geom.Leg{{Toward: [3]float64{1, 0, 0}, Distance: 4}, {Toward: [3]float64{0, 0, 1}, Distance: math.Inf(1)}}, InTheWay: []int32{int32(lid)}}
	b.g.Legs[rack] = []plan.Legs{out}
	rep = b.check(t)
	wantNoFinding(t, rep)
	wantOrder(t, rep, "rack", "lid")
	if len(rep.Stalled()) > 0 {
		t.Errorf("stalled: %+v, with a way", rep.Stalled())
	}
	for i, a := range rep.Constraints.Access {
		if route := rep.Constraints.Route(i); a.Space == nil && a.Piece == rack && (route == nil || len(route.Legs) != 2 || route.Legs[0].Toward != (geom.Vec{0, 0, -1}) || route.Toward() != (geom.Vec{-1, 0, 0})) {
			t.Errorf("the rack's route is %+v", route)
		}
	}
	b = setUp(t, strings.Replace(kit, "rack, to: hull", "rack, to: hull, after: lid", 1), ways)
	b.g.Legs[rack] = []plan.Legs{out}
	wantFinding(t, b.check(t), plan.Blocked, plan.Fault, "rack", "in any order", "in 2 legs, the last toward -x", `drop "lid" from after`)
}

func TestStalled(t *testing.T) {
	b := setUp(t, strings.Replace(boxKit, "seat, to: box", "seat, to: box, after: lid, toward: [0, 0, -1]", 1), boxWays)
	stalls := b.check(t).Stalled()
	want := []int{b.piece(t, "box"), b.piece(t, "lid")}
	if len(stalls) != 1 || stalls[0].Piece != b.piece(t, "seat") || !slices.Equal(stalls[0].Others, want) || !slices.Equal(stalls[0].Directions, []int{4}) {
		t.Errorf("stalled: %+v, want the seat, past %v, leaving by 4", stalls, want)
	}
	if stalls := setUp(t, boxKit, boxWays).check(t).Stalled(); len(stalls) > 0 {
		t.Errorf("stalled in a good kit: %+v", stalls)
	}
	if stalls := checked(t, "kit: Test\n"+boxKit).Stalled(); len(stalls) > 0 {
		t.Errorf("stalled without measurements: %+v", stalls)
	}
}

func TestUndercuts(t *testing.T) {
	const kit = `parts: {box: {}, knob: {}}
joins:
  - {fit: knob, to: box%}
`
	past := func(with, ways string) *plan.Project {
		b := setUp(t, strings.Replace(kit, "%", with, 1), ways)
		b.g.Undercuts[b.piece(t, "knob")] = []plan.Undercut{{Direction: 0, Width: .4, Past: []int32{int32(b.piece(t, "box"))}}}
		return b.check(t)
	}
	for _, with := range []string{"", ", with: ca", ", with: magnet"} {
		wantFinding(t, past(with, "knob +x -x +y -y +z -z: box"), plan.Blocked, plan.Caution, "knob", "past an undercut of up to 0.4 mm", "toward -x", "")
	}
	for _, with := range []string{", with: screw", ", with: press"} {
		wantNoFinding(t, past(with, "knob +x -x +y -y +z -z: box"))
	}
	t.Run("a way past none is free", func(t *testing.T) {
		wantNoFinding(t, past("", "knob +x -x +y -y -z: box"))
	})
	t.Run("only in that direction", func(t *testing.T) {
		wantFinding(t, past(", toward: [1, 0, 0]", "knob +x -x +y -y +z -z: box"), plan.Blocked, plan.Fault, "knob", "toward +x", "box is in the way", "let knob travel toward -x")
	})
}

func TestMeasurementsAgainstTheKit(t *testing.T) {
	const kit = `parts: {box: {%}, knob: {size: [10, 10, 10.4]}}
joins:
  - {fit: knob, to: box}
`
	wantNoFinding(t, setUp(t, strings.Replace(kit, "%", "", 1), "").check(t)) // 0.4 mm off is not worth a word
	for _, c := range []struct {
		name, box   string
		measured    func(g *plan.Geometry)
		kind        string
		grade       plan.Grade
		piece, text string
	}{
		{"clash", "", func(g *plan.Geometry) { g.Clashes = []plan.Clash{{A: 0, B: 1, Depth: .5, Volume: 12}} }, plan.Clashes, plan.Fault, "knob", "box and knob overlap by 0.5 mm (12 mm3)"},
		{"clash with what is bought", "bought: true", func(g *plan.Geometry) { g.Clashes = []plan.Clash{{A: 0, B: 1, Depth: .5, Volume: 12}} }, plan.Clashes, plan.Caution, "knob", "overlap"},
		{"apart", "", func(g *plan.Geometry) { g.Touching = nil }, plan.Meshes, plan.Fault, "knob", "knob does not touch box"},
		{"nearly touching", "", func(g *plan.Geometry) { g.Touching[0] = plan.Touch{A: 0, B: 1, Gap: .7} }, plan.Meshes, plan.Caution, "knob", "the gap is 0.7 mm"},
		{"another size", "size: [10, 10, 11]", func(*plan.Geometry) {}, plan.Meshes, plan.Caution, "box", "10 x 10 x 10 mm by its mesh, and 10 x 10 x 11 mm by the kit"},
		{"mesh that is ill", "", func(g *plan.Geometry) {
			g.Findings = []plan.Finding{{Kind: plan.Meshes, Grade: plan.Fault, Piece: "box", Text: "box has open edges"}}
		}, plan.Meshes, plan.Fault, "box", "open edges"},
	} {
		t.Run(c.name, func(t *testing.T) {
			b := setUp(t, strings.Replace(kit, "%", c.box, 1), "")
			c.measured(b.g)
			wantFinding(t, b.check(t), c.kind, c.grade, c.piece, c.text, "", "")
		})
	}
}
