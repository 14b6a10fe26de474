package next_test

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/next"
	"dryfit/plan/plantest"
)

// marked records a step as done, and what it takes for that.
func marked(t *testing.T, rep *plan.Project, f *progress.File, td *next.Todo, step int, undo bool) *progress.File {
	t.Helper()
	state, names := progress.Done, []string{td.Name(step)}
	if rep.Constraints.Steps[step].Kind == plan.Fit {
		state, names = "fitted", strings.Fields(td.Name(step))
	}
	m, errs := progress.Find(rep.Kit, state, names)
	if len(errs) > 0 {
		t.Fatal(errs)
	}
	m.Undo = undo
	after, err := f.Mark(rep.Kit, m)
	if err != nil {
		t.Fatal(err)
	}
	return after
}

// Whoever does what can be done next, in any sequence, meets no objection and no
// finding and gets the whole model done. A builder who does what should be held
// back is warned, finds what it shuts out gone, and is well again once it is
// taken back.
func TestWalk(t *testing.T) {
	// Without the order of magnets and battery, the battery hatch may be shut before the
	// floor is in, which leaves the battery a narrower way.
	rep := plantest.Check(t, kitstest.Replace(t, string(demo.Kit),
		"[0, 0, 1], after: [lead-searchlight], takes: 8m, note: south down", "[0, 0, 1], takes: 8m, note: south down",
		"[0, 0, 1], after: [magnet-battery-hatch]", "[0, 0, 1], after: [outside-coat]"))
	held, narrows := 0, 0
	for seed := range uint64(2) {
		r := rand.New(rand.NewPCG(3, seed))
		f := file(t, "")
		for {
			td := next.New(rep, f.Of(rep.Kit))
			if len(td.Findings) > 0 {
				t.Fatalf("seed %d: %s", seed, said(td.Findings))
			}
			can := slices.Concat(td.Now, td.Soon, td.Then)
			if len(can) == 0 {
				if td.Count.Done != td.Count.Steps || td.Count.Fitted == 0 {
					t.Errorf("seed %d: stopped at %+v", seed, td.Count)
				}
				break
			}
			for _, h := range td.Held[:min(1, len(td.Held))] {
				held++
				narrows += holdsBack(t, rep, f, td, h)
			}
			step := can[r.IntN(len(can))].Step
			after := marked(t, rep, f, td, step, false)
			if o := next.Objections(rep, f.Of(rep.Kit), after.Of(rep.Kit)); len(o) > 0 {
				t.Fatalf("seed %d: %s: %v", seed, td.Name(step), o)
			}
			f = after
		}
	}
	if held-narrows < 100 || narrows < 10 {
		t.Errorf("only %d steps were held back, %d of them because they leave a narrower way", held, narrows)
	}
}

// holdsBack does what is to be held back, and takes it back. It returns 1 if others could
// follow by other ways.
func holdsBack(t *testing.T, rep *plan.Project, f *progress.File, td *next.Todo, h next.Hold) int {
	t.Helper()
	name := td.Name(h.Step)
	wrong := marked(t, rep, f, td, h.Step, false)
	after := next.New(rep, wrong.Of(rep.Kit))
	objections := next.Objections(rep, f.Of(rep.Kit), wrong.Of(rep.Kit))
	kind, steps := next.OutOfReach, after.Rest.Stuck
	if h.Narrows {
		kind, steps = next.Narrowed, after.Rest.Narrowed
	}
	if h.Narrows != (len(objections) == 0) {
		t.Fatalf("against %s is said %q", name, objections)
	}
	if !slices.ContainsFunc(after.Findings, func(f plan.Finding) bool { return f.Kind == kind }) {
		t.Fatalf("%s gives no finding of kind %s:\n%s", name, kind, said(after.Findings))
	}
	for _, v := range h.Loses {
		if !slices.Contains(steps, v) {
			t.Fatalf("%s does nothing to %s", name, td.Name(v))
		}
	}
	back := marked(t, rep, wrong, td, h.Step, true)
	if o := next.Objections(rep, wrong.Of(rep.Kit), back.Of(rep.Kit)); len(o) > 0 {
		t.Fatalf("%s cannot be taken back: %v", name, o)
	}
	if h.Narrows {
		return 1
	}
	return 0
}

// What a proposed print opens can be done, in the sequence that is left, with nothing
// else printed than what was and what is proposed, and without shutting out anything.
func TestPrintsOpen(t *testing.T) {
	rep := plantest.Check(t, string(demo.Kit))
	q := rep.Sequence
	proposals := 0
	for seed := range uint64(6) {
		r := rand.New(rand.NewPCG(4, seed))
		f := file(t, "")
		var names []string
		printed := make([]bool, len(rep.Kit.Pieces))
		for i, p := range rep.Kit.Pieces {
			if printed[i] = r.IntN(3) == 0 || p.Part.Bought || p.Part.Made; printed[i] {
				names = append(names, p.ID)
			}
		}
		m, _ := progress.Find(rep.Kit, "printed", names)
		f, err := f.Mark(rep.Kit, m)
		if err != nil {
			t.Fatal(err)
		}
		td := next.New(rep, f.Of(rep.Kit))
		if len(td.Prints) == 0 {
			t.Fatalf("seed %d: no print is proposed", seed)
		}
		done := make([]bool, len(rep.Constraints.Steps))
		for _, p := range td.Prints {
			proposals++
			for _, piece := range p.Pieces {
				if printed[piece] {
					t.Fatalf("seed %d: %s is printed", seed, rep.Kit.Pieces[piece].ID)
				}
				printed[piece] = true
			}
			for _, v := range q.Order {
				if !done[v] && inHand(rep.Constraints.Steps[v], printed) && slices.Contains(q.Remaining(done).Next(), v) {
					done[v] = true
				}
			}
			for _, v := range p.Opens {
				if !done[v] {
					t.Errorf("seed %d: %s is not open with %v", seed, td.Name(v), p.Pieces)
				}
			}
		}
	}
	if proposals < 30 {
		t.Errorf("only %d proposals", proposals)
	}
}

// inHand reports whether all that a step holds is printed.
func inHand(s plan.Step, printed []bool) bool {
	var pieces []int
	if s.Join != nil {
		pieces = slices.Concat(s.Join.Pieces, s.Join.Onto)
	} else if s.Wire != nil {
		pieces = append([]int{s.Wire.From, s.Wire.To}, s.Wire.Through...)
	}
	return !slices.ContainsFunc(pieces, func(p int) bool { return !printed[p] })
}
