package next_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/next"
	"dryfit/plan/plantest"
)

// A boat whose seats go in before the hull closes, unless by the hatch, which they pass
// only turned; the lamp goes in by no hatch.
const boat = `kit: Boat
parts:
  hull-left: {printed: resin, paint: before-close}
  hull-right: {printed: resin}
  floor: {printed: resin, paint: before-fit}
  seat: {printed: resin, quantity: 2, size: [10, 14, 10], paint: before-fit}
  lamp: {bought: true, size: [40, 40, 40]}
  hatch: {printed: resin, paint: off-model}
  mast: {printed: resin}
joins:
  - {fit: floor, to: hull-left, with: ca}
  - {fit: seat, to: floor, with: ca}
  - {fit: lamp, to: hull-left, with: epoxy}
  - {close: [hull-left, hull-right], with: epoxy, step: closing}
  - {fit: hatch, to: [hull-left, hull-right], with: ca}
  - {fit: mast, to: hull-right, with: ca, after: closing}
spaces:
  cabin:
    closed-by: [hull-right, {piece: hatch, opening: [30, 12], facing: z}]
    holds: [floor, seat, lamp]
tasks:
  - {do: Test, step: test, after: lamp, before: closing}
`

func file(t testing.TB, text string) *progress.File {
	t.Helper()
	f, err := progress.Read("p.yaml", []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// told says in one line what can be done.
func told(rep *plan.Project, t *next.Todo) string {
	var list []string
	jobs := func(head string, jobs []next.Job) {
		for _, j := range jobs {
			text := head + " " + t.Name(j.Step)
			for _, m := range j.Missing {
				text += " (" + rep.Kit.Pieces[m.Piece].ID + " not " + m.States.String() + ")"
			}
			for _, p := range j.Have {
				text += " (have " + rep.Kit.Pieces[p].ID + ")"
			}
			for _, p := range j.Inside {
				text += " (inside of " + rep.Kit.Pieces[p].ID + ")"
			}
			list = append(list, text)
		}
	}
	jobs("now", t.Now)
	jobs("soon", t.Soon)
	jobs("then", t.Then)
	for _, h := range t.Held {
		text := "held " + t.Name(h.Step) + " for"
		for _, v := range h.On {
			text += " what is under it: " + t.Name(v)
		}
		for _, v := range h.Loses {
			text += " " + t.Name(v)
		}
		list = append(list, text)
	}
	return strings.Join(list, "\n")
}

// A task that follows nothing waits for what the closing after it joins: there is no inside
// to paint while nothing is printed. What rests on a closing that keeps others out is not
// offered.
func TestNotOffered(t *testing.T) {
	text := strings.Replace(boat, "tasks:", "tasks:\n  - {do: Paint the inside, step: inside, before: closing}\n  - {do: Fill the seams, step: seams, after: closing}", 1)
	rep := plantest.Check(t, text)
	for _, c := range []struct{ state, has string }{
		{"", "then inside (hull-left not printed, cleaned) (hull-right not printed, cleaned)"},
		{"pieces: {hull-left: cleaned, hull-right: cleaned}", "now inside"},
		{"pieces: {hull-left: cleaned, hull-right: cleaned, floor: fitted}\ndone: [closing]", "held seams for what is under it: closing"},
		{"pieces: {hull-left: cleaned, hull-right: cleaned, floor: fitted, seat: fitted, lamp: fitted}\ndone: [test, inside, closing]", "now seams"},
	} {
		f := file(t, c.state)
		if got := told(rep, next.New(rep, f.Of(rep.Kit))); !slices.Contains(strings.Split(got, "\n"), c.has) {
			t.Errorf("%s\ngot\n%s\nwant among it\n%s", c.state, got, c.has)
		}
	}
}

// What the order says to paint by a step, a job waits for: the inside that a roof on screws
// shuts, and a hatch before its knob is fitted to it.
func TestPaintAsOrdered(t *testing.T) {
	rep := plantest.Check(t, `
kit: House
parts: {house: {printed: resin, paint: before-close}, roof: {printed: resin}, hatch: {printed: resin, paint: off-model}, knob: {printed: resin}}
joins:
  - {fit: roof, to: house, with: screw}
  - {fit: knob, to: hatch, with: ca}
  - {fit: hatch, to: roof, with: ca, bench: true}
spaces: {room: {closed-by: [house, roof]}}
`)
	td := next.New(rep, file(t, "pieces: {house: cleaned, roof: cleaned, hatch: cleaned, knob: cleaned}").Of(rep.Kit))
	recalled, waits := false, false
	for _, j := range slices.Concat(td.Now, td.Soon, td.Then) {
		recalled = recalled || j.Step == 0 && slices.Equal(j.Recall, []int{0})
		waits = waits || j.Step == 1 && slices.Equal(j.Missing, []next.Missing{{Piece: 2, States: progress.Painted}})
	}
	if !recalled || !waits {
		t.Errorf("house recalled: %v, hatch waited for: %v\n%s", recalled, waits, told(rep, td))
	}
}

// What can be done, and what it waits for, at several moments of a build.
func TestTodo(t *testing.T) {
	rep := plantest.Check(t, boat)
	for _, c := range []struct{ state, want string }{
		{"", `then lamp (hull-left not printed, cleaned) (have lamp)
then floor (floor not printed, cleaned, painted) (hull-left not printed, cleaned)`},
		{"pieces: {hull-left: cleaned, floor: printed, seat: printed}", `now lamp (have lamp)
soon floor (floor not cleaned, painted)`},
		// One seat is in; the other is still to fit.
		{"pieces: {floor: fitted, seat: painted, seat.2: fitted, lamp: fitted}", `now seat
now test`},
		{"pieces: {floor: fitted, seat: painted, lamp: fitted}\ndone: test", `now seat
held closing for seat`},
		{"pieces: {floor: fitted, seat: fitted, lamp: fitted}\ndone: test", `then closing (hull-right not printed, cleaned) (inside of hull-left)`},
		{"pieces: {floor: fitted, seat: fitted, lamp: fitted, hatch: cleaned, mast: cleaned}\ndone: [test, closing]", `now mast
soon hatch (hatch not painted)`},
		{"pieces: {floor: fitted, seat: fitted, lamp: fitted, hatch: fitted, mast: fitted}\ndone: [test, closing]", ``},
	} {
		f := file(t, c.state)
		if got := told(rep, next.New(rep, f.Of(rep.Kit))); got != c.want {
			t.Errorf("%s\ngot\n%s\nwant\n%s", c.state, got, c.want)
		}
	}
}

// said is the findings in short.
func said(list []plan.Finding) string {
	var lines []string
	for _, f := range list {
		lines = append(lines, string(f.Grade)+" "+f.Kind+": "+f.Text)
		for _, r := range f.Repairs {
			lines = append(lines, "  "+r.Text)
		}
	}
	return strings.Join(lines, "\n")
}

// What was done in no valid order is reported: out of reach, only by turning, or
// just not marked.
func TestFindings(t *testing.T) {
	rep := plantest.Check(t, boat)
	for _, c := range []struct{ state, want string }{
		{"pieces: {floor: fitted, seat: fitted, lamp: fitted}\ndone: closing",
			`caution out-of-order: step 4 (test), Test, is not marked as done, but step 5 (closing), which comes after it, is; if it was done, mark it`},
		{"pieces: {floor: fitted, lamp: fitted}\ndone: [test, closing]",
			`caution narrowed: what is done leaves only one way to do step 3 (seat) (Fit seat (2) to floor): by turning it`},
		{"pieces: {floor: fitted, seat: fitted}\ndone: [test, closing]",
			`fault out-of-reach: lamp can no longer get into cabin: step 5 (closing) is done
  if step 5 (closing) is done, take it apart again (epoxy holds for good); if it is not, take the mark back with dryfit mark --undo
caution out-of-order: step 1 (lamp), Fit lamp to hull left, is not marked as done, but step 4 (test), which comes after it, is; if it was done, mark it`},
		{"pieces: {floor: fitted, seat: fitted, mast: fitted}\ndone: [test, closing]",
			`fault out-of-reach: lamp can no longer get into cabin: step 5 (closing) is done
  if step 5 (closing) is done, take it apart again (epoxy holds for good); 1 done step comes after it and would come off first; if it is not, take the mark back with dryfit mark --undo
caution out-of-order: step 1 (lamp), Fit lamp to hull left, is not marked as done, but step 4 (test), which comes after it, is; if it was done, mark it`},
		{"pieces: {sea: fitted}", `caution unknown: the kit has no piece called "sea", did you mean "seat"?; it is ignored`},
	} {
		f := file(t, c.state)
		if got := said(next.New(rep, f.Of(rep.Kit)).Findings); got != c.want {
			t.Errorf("%s\ngot\n%s\nwant\n%s", c.state, got, c.want)
		}
	}
}
