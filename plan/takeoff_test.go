package plan_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"dryfit/plan"
)

// acts words what a sequence does: "lid cup" with "-lid" and "+lid" for what is taken off
// and put back.
func acts(rep *plan.Project) string {
	if rep.Sequence == nil {
		return "none"
	}
	var list []string
	for _, a := range rep.Sequence.Acts() {
		mark := map[[2]bool]string{{true, false}: "-", {false, true}: "+"}[[2]bool{a.Off, a.Back}]
		list = append(list, mark+strings.TrimPrefix(rep.Constraints.Name(a.Step), "fitting "))
	}
	return strings.Join(list, " ")
}

// A socket on magnets stands on a roof, its ledge over the wide foot of a knob that stands
// there as well. It comes off for the knob, and does not go back over it.
const (
	ledgeKit = `parts: {roof: {}, socket: {}, knob: {}}
joins:
  - {fit: socket, to: roof, with: magnet}
  - {fit: knob, to: roof, with: ca}
`
	ledgeWays = "socket -z: roof\nknob -z: roof\nknob +x -x +y -y +z: socket\nsocket +z: knob"
)

func TestPutBackPastWhatWentIn(t *testing.T) {
	rep := setUp(t, ledgeKit, ledgeWays).check(t)
	wantFinding(t, rep, plan.Blocked, plan.Fault, "socket", "in any order", "fitting socket opens, but socket cannot be put back past what stands there then", "")
	rep = setUp(t, strings.Replace(ledgeKit, "with: ca", "with: ca, after: socket", 1), strings.Replace(ledgeWays, "\nsocket +z: knob", "", 1)).check(t)
	if got := acts(rep); got != "socket -socket knob +socket" {
		t.Errorf("without a ledge the order is %s", got)
	}
}

// What is taken off, and what keeps it from coming off or going back.
func TestTakenOff(t *testing.T) {
	const kit = `parts: {box: {}, lid: {}, gem: {}, bar: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: bar, to: box, with: epoxy}
  - {fit: gem, to: box, with: ca, after: lid}
`
	const ways = "gem +x -x +y -y -z: box\ngem +z: lid\nlid -z +x -x +y -y: box\nbar -z: box"
	over := ways + "\nlid +z: bar"
	for _, c := range []struct{ name, old, now, ways, want string }{
		{"lid", "", "", ways, "lid bar -lid gem +lid"},
		{"before the bar goes over it", "", "", over, "lid -lid gem +lid bar"},
		{"under a bar that stays", "after: lid", "after: [lid, bar]", over, "none"},
		{"under a bar that comes off", "with: epoxy}\n  - {fit: gem, to: box, with: ca, after: lid", "with: screw}\n  - {fit: gem, to: box, with: ca, after: [lid, bar]", over, "lid bar -bar -lid gem +lid +bar"},
		{"a bar fixed across", "bar, to: box, with: epoxy}\n  - {fit: gem, to: box, with: ca, after: lid", "bar, to: [box, lid], with: epoxy}\n  - {fit: gem, to: box, with: ca, after: [lid, bar]", ways, "none"},
		{"a bar that lies across", "bar, to: box, with: epoxy}\n  - {fit: gem, to: box, with: ca, after: lid", "bar, to: [box, lid], with: loose}\n  - {fit: gem, to: box, with: ca, after: [lid, bar]", ways, "lid bar -lid gem +lid"},
		{"on the lid and caught under the box", "bar, to: box, with: epoxy}\n  - {fit: gem, to: box, with: ca, after: lid", "bar, to: lid, with: epoxy}\n  - {fit: gem, to: box, with: ca, after: [lid, bar]", ways + "\nbar +z: box", "none"},
		{"glued lid", "with: magnet", "with: epoxy", ways, "none"},
	} {
		t.Run(c.name, func(t *testing.T) {
			text := strings.Replace(kit, c.old, c.now, 1)
			if c.old != "" && text == kit {
				t.Fatalf("%q is not in the kit", c.old)
			}
			rep := setUp(t, text, c.ways).check(t)
			if got := acts(rep); got != c.want {
				t.Errorf("got %s, want %s\n%s", got, c.want, listed(rep.Findings))
			}
		})
	}
}

// The copies of one step go in one after the other, or keep one another out.
func TestCopiesThatLock(t *testing.T) {
	const kit = "parts: {hull: {}, seat: {quantity: 2}}\njoins:\n  - {fit: seat, to: hull}\n"
	const ways = "seat.1 +x -x +y -y +z -z: seat.2\nseat.1 -z: hull\nseat.2 -z: hull"
	wantFinding(t, setUp(t, kit, ways).check(t), plan.Blocked, plan.Fault, "seat.1", "in any order", "the copies keep one another out", "")
	wantNoFinding(t, setUp(t, kit, strings.Replace(ways, "+z -z: seat.2", "+z: seat.2", 1)).check(t))
}

// A closer that rides on what a step moves is not in its way, and is in the way of what
// goes onto the moving unit later.
func TestCloserThatRides(t *testing.T) {
	const kit = `kit: Cabin
parts: {hull: {}, floor: {}, roof: {}, stove: {}}
joins:
  - {fit: roof, to: floor%s}
  - {fit: stove, to: floor}
  - {fit: floor, to: hull, bench: true, after: roof}
spaces:
  cabin: {closed-by: [roof], holds: [floor, stove]}
`
	if got := acts(checked(t, fmt.Sprintf(kit, ""))); got != "stove roof floor" {
		t.Errorf("got %s", got)
	}
	if got := acts(checked(t, fmt.Sprintf(kit, ", before: stove"))); got != "none" {
		t.Errorf("got %s", got)
	}
}

// A last call for what goes in under a lid comes with the step after which the lid can no
// longer be taken off for it: by the meshes, when a bar is glued over it.
func TestLastCallUnderALid(t *testing.T) {
	const kit = `parts: {box: {}, lid: {}, gem: {}, bar: {}}
joins:
  - {fit: gem, to: box, with: ca}
  - {fit: lid, to: box, with: magnet}
  - {fit: bar, to: box, with: %s, after: lid}
`
	const ways = "gem +x -x +y -y -z: box\ngem +z: lid\nlid -z +x -x +y -y: box\nlid +z: bar\nbar -z: box"
	for fixing, want := range map[string][]int{"epoxy": {2}, "screw": nil} {
		rep := setUp(t, fmt.Sprintf(kit, fixing), ways).check(t)
		var got []int
		for _, c := range rep.Sequence.CallsOf([]int{2}, "") {
			got = append(got, c.Step)
		}
		if !slices.Equal(got, want) {
			t.Errorf("with %s: last calls for the gem at %v, want %v", fixing, got, want)
		}
	}
}
