package rehearse

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits/geom"
	"dryfit/plan"
)

// axes are the directions of leaving in these tests.
var axes = []string{"+x", "-x", "+y", "-y", "+z", "-z"}

// A rig is a kit with what was measured of it.
type rig struct {
	*model
	g *plan.Geometry
}

// setUp reads a kit. Each line of ways says what a piece meets when it leaves its seat,
// "lid +x -z: box"; what it meets meets it the opposite way. Without ways nothing was
// measured.
func setUp(t *testing.T, text, ways string) *rig {
	t.Helper()
	k, steps := readKit(t, "kit: Test\n"+text)
	r := &rig{newModel(k, nil, steps), nil}
	if ways == "" {
		return r
	}
	n := len(k.Pieces)
	r.g = &plan.Geometry{Measured: slices.Repeat([]bool{true}, n), Sizes: slices.Repeat([][3]float64{{10, 10, 10}}, n),
		Directions: []geom.Vec{{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1}, {0, 0, -1}},
		Legs:       map[int][]plan.Legs{}, Undercuts: map[int][]plan.Undercut{}}
	for range axes {
		r.g.InTheWay = append(r.g.InTheWay, make([][]int32, n))
	}
	for line := range strings.Lines(ways) {
		leaves, meets, _ := strings.Cut(strings.TrimSpace(line), ":")
		words := strings.Fields(leaves)
		for _, axis := range words[1:] {
			for _, other := range strings.Fields(meets) {
				d, p, q := slices.Index(axes, axis), r.piece(t, words[0]), r.piece(t, other)
				r.g.InTheWay[d][p] = append(r.g.InTheWay[d][p], int32(q))
				r.g.InTheWay[d^1][q] = append(r.g.InTheWay[d^1][q], int32(p))
			}
		}
	}
	return r
}

func (r *rig) piece(t *testing.T, id string) int {
	t.Helper()
	list, err := r.kit.Named(id)
	if err != nil {
		t.Fatal(err)
	}
	return list[0]
}

func (r *rig) name(v int) string { return lineOf(r.kit, r.steps[v]) }

// walk replays the steps of a text, separated by semicolons.
func (r *rig) walk(t *testing.T, sequence string) *Result {
	t.Helper()
	list, err := Read(r.kit, r.steps, "steps.txt", []byte(strings.ReplaceAll(sequence, "; ", "\n")))
	if err != nil {
		t.Fatal(err)
	}
	return Walk(r.kit, r.g, r.steps, list)
}

// wantFailure asks for a failure at the last step of a sequence, with a text.
func (r *rig) wantFailure(t *testing.T, sequence string, kind Kind, text string) {
	t.Helper()
	got := r.walk(t, sequence)
	if f := got.Failure; f == nil || got.Fine != strings.Count(sequence, ";") || f.Kind != kind || f.Text(r.kit, r.name) != text {
		t.Errorf("%s: %d steps are fine, then %v; want %s: %s", sequence, got.Fine, r.text(f), kind, text)
	}
}

func (r *rig) text(f *Failure) string {
	if f == nil {
		return "no failure"
	}
	return string(f.Kind) + ": " + f.Text(r.kit, r.name)
}

// wantFine asks for a sequence that builds the kit, in which joins are undone as a text
// says: "gem: lid".
func (r *rig) wantFine(t *testing.T, sequence, reopened string) {
	t.Helper()
	got := r.walk(t, sequence)
	var list []string
	for _, o := range got.Reopened {
		names := strings.Split(sequence, "; ")[o.At] + ":"
		for _, v := range o.Joins {
			names += " " + r.name(v)
		}
		list = append(list, names)
	}
	if !got.OK() || strings.Join(list, ", ") != reopened {
		t.Errorf("%s: %s, missing %v, reopened %q, want %q", sequence, r.text(got.Failure), got.Missing, list, reopened)
	}
}

// A socket stands on a roof. Its ledge reaches over the wide foot of a knob that stands on
// the roof as well: the knob cannot leave under the ledge, and the socket cannot leave over
// the foot.
const (
	socketKit = `parts: {roof: {}, socket: {}, knob: {}}
joins:
  - {fit: socket, to: roof, with: magnet}
  - {fit: knob, to: roof, with: ca}
`
	socketWays = `socket -z: roof
		knob -z: roof
		knob +x -x +y -y +z: socket
		socket +z: knob`
)

// What is taken off for a piece must go back past that piece.
func TestSocketOverKnob(t *testing.T) {
	r := setUp(t, socketKit, socketWays)
	r.wantFailure(t, "socket; knob", Blocked,
		"knob cannot travel to its seat: socket is in its way; socket opens, but cannot be made again afterwards: socket cannot travel to its seat: knob is in its way")
	r.wantFailure(t, "knob; socket", Blocked, "socket cannot travel to its seat: knob is in its way")
	r.wantFailure(t, "socket; off socket; knob; socket", Blocked, "socket cannot travel to its seat: knob is in its way")
	t.Run("a socket without a ledge", func(t *testing.T) {
		r := setUp(t, socketKit, "socket -z: roof\nknob -z: roof\nknob +x -x +y -y: socket")
		r.wantFine(t, "socket; knob", "")
		r.wantFine(t, "knob; socket", "")
	})
	t.Run("a lid that comes off and goes back", func(t *testing.T) {
		r := setUp(t, `parts: {box: {}, lid: {}, gem: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: gem, to: box, with: ca}
`, "gem +x -x +y -y -z: box\ngem +z: lid\nlid -z: box")
		r.wantFine(t, "lid; gem", "gem: lid")
		r.wantFine(t, "lid; off lid; gem; lid", "")
		r.wantFailure(t, "lid; off lid; off lid", Absent, "there is nothing to undo: it is not done, or undone already")
		r.wantFailure(t, "gem; off gem", Firm, "it does not open, so it cannot be undone")
		r.wantFailure(t, "gem; lid; gem", Again, "it is done already")
		if got := r.walk(t, "gem; lid; off lid"); got.Failure != nil || !slices.Equal(got.Missing, []int{0}) {
			t.Errorf("the lid is left off: %s, missing %v", r.text(got.Failure), got.Missing)
		}
		r.script.work = maxReopened + 1
		if _, f := r.do(0); f != nil {
			t.Fatal(r.text(f))
		}
		r.script.geometry = r.g
		if _, f := r.do(1); f == nil || f.Kind != GivenUp {
			t.Errorf("with too much work done: %s", r.text(f))
		}
	})
}

// What the designer asks, what it sits on, and what it ties together come first.
func TestNeeds(t *testing.T) {
	r := setUp(t, `parts: {hull: {}, wing: {}, engine: {}, prop: {}, tail: {paint: outside}, flag: {paint: off-model}, spar: {}}
joins:
  - {fit: engine, to: wing}
  - {fit: prop, to: engine, before: tail}
  - {fit: wing, to: hull, bench: true}
  - {fit: tail, to: hull}
  - {fit: flag, to: tail}
  - {fit: spar, to: [hull, engine]}
wires:
  - {wire: lead, from: hull, to: prop, after: spar}
tasks:
  - {do: Paint, step: paint, coat: outside}
`, "")
	r.wantFine(t, "engine; prop; wing; spar; lead; tail; paint; flag", "")
	r.wantFailure(t, "prop", Unseated, "engine is not in place yet, so engine must be done first")
	r.wantFailure(t, "engine; tail", Early, "prop must be done first")
	r.wantFailure(t, "engine; prop; spar", Apart, "hull and engine are not in one group yet")
	r.wantFailure(t, "engine; prop; wing; lead", Early, "spar must be done first")
	r.wantFailure(t, "paint", Early, "tail must be done first")
	r.wantFailure(t, "engine; prop; tail; flag", Early, "paint must be done first")
}

// A screw through two pieces holds them together; what lies loose between them does not.
func TestWhatIsFixedAcross(t *testing.T) {
	const kit = `parts: {box: {}, lid: {}, pin: {}, gem: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: pin, to: [box, lid], with: %}
  - {fit: gem, to: box, with: ca}
spaces:
  room: {closed-by: [lid], holds: gem}
`
	with := func(fixing string) *rig { return setUp(t, strings.Replace(kit, "%", fixing, 1), "") }
	with("loose").wantFine(t, "lid; pin; gem", "gem: lid")
	with("screw").wantFine(t, "lid; pin; gem", "gem: pin lid")
	with("ca").wantFailure(t, "lid; pin; gem", Shut,
		"gem cannot get into room, which is shut by lid; lid opens, but cannot be undone: pin holds both sides of it")
}

// A bridge is glued across a lid on magnets.
func TestLidUnderBridge(t *testing.T) {
	const kit = `parts: {box: {}, lid: {}, bridge: {}, gem: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: bridge, to: box, with: ca}
  - {fit: gem, to: box, with: ca}
spaces:
  room: {closed-by: [box, lid], holds: gem}
`
	const ways = "lid +x -x +y -y -z: box\nlid +z: bridge\nbridge -z: box"
	setUp(t, kit, ways).wantFine(t, "lid; gem; bridge", "gem: lid")
	setUp(t, kit, "lid -z: box").wantFine(t, "lid; bridge; gem", "gem: lid")
	setUp(t, kit, ways).wantFailure(t, "lid; bridge; gem", Shut,
		"gem cannot get into room, which is shut by box and lid; lid opens, but cannot be undone: lid cannot travel to its seat: bridge is in its way")
	loose := strings.Replace(kit, "bridge, to: box, with: ca", "bridge, to: box, with: screw", 1)
	setUp(t, loose, ways).wantFine(t, "lid; bridge; gem", "gem: bridge lid")
}

// Two glued pieces seal a void with a lamp; its battery lies loose outside. A wire is judged
// from the lamp, whichever end the kit names first.
func TestWireIntoSealedVoid(t *testing.T) {
	const kit = `parts: {base: {}, dome: {}, lamp: {}, battery: {}}
joins:
  - {fit: lamp, to: base, with: ca}
  - {fit: dome, to: base, with: ca}
  - {fit: battery, to: base, with: loose}
spaces:
  void: {closed-by: [dome], holds: lamp}
wires:
  - {wire: lead, from: battery, to: lamp, runs-in: void, across: 2}
`
	swapped := strings.Replace(kit, "from: battery, to: lamp", "from: lamp, to: battery", 1)
	unheld := strings.Replace(kit, ", holds: lamp", "", 1)
	for _, text := range []string{kit, swapped, unheld} {
		r := setUp(t, text, "")
		r.wantFine(t, "lamp; battery; lead; dome", "")
		r.wantFailure(t, "lamp; battery; dome; lead", Shut, "the wire cannot get into void, which is shut by dome")
	}
	r := setUp(t, strings.Replace(kit, "dome, to: base, with: ca", "dome, to: base, with: screw", 1), "")
	r.wantFine(t, "lamp; battery; dome; lead", "lead: dome")
	r = setUp(t, strings.Replace(kit, "{closed-by: [dome]", "{closed-by: [{piece: dome, opening: [3, 2]}, {opening: [9, 3]}]", 1), "")
	r.wantFine(t, "lamp; battery; dome; lead", "")
	r = setUp(t, strings.Replace(kit, "{closed-by: [dome]", "{closed-by: [dome, {opening: [9, 2.9]}]", 1), "")
	r.wantFailure(t, "lamp; battery; dome; lead", Shut, "the wire cannot get into void, which is shut by dome")
	r = setUp(t, strings.Replace(kit, "{closed-by: [dome]", "{closed-by: [{piece: dome, opening: [9, 2.9]}]", 1), "")
	r.wantFailure(t, "lamp; battery; lead", TooLarge, "the wire passes no opening of void")
}

// The copies of one step go in one after the other; two that lock each other cannot.
func TestCopiesOfOneStep(t *testing.T) {
	const kit = `parts: {hull: {}, seat: {quantity: 2}}
joins:
  - {fit: seat, to: hull}
`
	setUp(t, kit, "seat.1 +x -x +y -y +z: seat.2\nseat.1 -z: hull\nseat.2 -z: hull").wantFine(t, "seat", "")
	setUp(t, kit, "seat.1 +x -x +y -y +z -z: seat.2\nseat.1 -z: hull\nseat.2 -z: hull").
		wantFailure(t, "seat", Blocked, "seat.1 cannot travel to its seat: seat.2 is in its way")
}

// A roof on the floor unit that is slid in shuts nothing as long as the unit is outside.
func TestCloserOnTheMovingUnit(t *testing.T) {
	r := setUp(t, `parts: {hull: {}, floor: {}, roof: {}, stove: {}}
joins:
  - {fit: roof, to: floor}
  - {fit: stove, to: floor}
  - {fit: floor, to: hull, bench: true}
spaces:
  cabin: {closed-by: [roof], holds: [floor, stove]}
`, "")
	r.wantFine(t, "stove; roof; floor", "")
	r.wantFailure(t, "roof; stove", Shut, "stove cannot get into cabin, which is shut by roof")
}
