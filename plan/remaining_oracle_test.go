package plan_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// A builder is what the oracles can do: say whether a step can be done when others are.
type builder interface {
	can(step int, done stepSet) bool
}

// endings tells of each set of steps done whether the others can still follow.
func endings(b builder, steps int) []bool {
	all := stepSet(1<<steps - 1)
	ends := make([]bool, int(all)+1)
	ends[all] = true
	for done := int(all) - 1; done >= 0; done-- {
		for step := range steps {
			s := stepSet(done)
			ends[done] = ends[done] || !s.has(step) && ends[s|1<<step] && b.can(step, s)
		}
	}
	return ends
}

// restComparison compares what is reported for partly built kits with an oracle.
type restComparison struct {
	*comparison
	builder
	q    *plan.Sequence
	ends map[plan.Relaxation][]bool
}

// endsUnder tells which sets of steps done can be finished under an allowance.
func (c *restComparison) endsUnder(a plan.Relaxation) []bool {
	if c.ends[a] == nil {
		c.allowed = a
		c.ends[a] = endings(c.builder, c.steps)
	}
	return c.ends[a]
}

// compare looks at one set of done steps.
func (c *restComparison) compare(done stepSet) error {
	list := make([]bool, len(c.number))
	for v, step := range c.number {
		list[v] = done.has(step)
	}
	x := c.q.Remaining(list)
	least := c.q.Solution.Relaxation
	if len(x.Stuck) > 0 {
		c.tally.count("states that cannot be finished", true)
		for _, a := range oracleAllowances {
			if (a.Turning || !least.Turning) && (a.Reopen || !least.Reopen) && c.endsUnder(a)[done] {
				return fmt.Errorf("stuck:%s, but under %+v there is an ending", c.setText(c.asSet(x.Stuck)), a)
			}
		}
		return nil
	}
	c.tally.count("states that can be finished", true)
	c.tally.count("states that ask for more", x.Relaxation != least)
	if !c.endsUnder(x.Relaxation)[done] {
		return fmt.Errorf("nothing is stuck under %+v, but there is no ending", x.Relaxation)
	}
	if x.Relaxation != least && c.endsUnder(least)[done] {
		return fmt.Errorf("%+v is asked for, but %+v would do", x.Relaxation, least)
	}
	return c.compareNext(x, done, x.Relaxation != least || least == plan.Relaxation{})
}

// compareNext looks at what can be done next. Where the sequence asks of a few entries
// what it may ask of all, not all that the oracle allows is proposed.
func (c *restComparison) compareNext(x *plan.Remaining, done stepSet, exact bool) error {
	ends := c.endsUnder(x.Relaxation)
	c.allowed = x.Relaxation
	want := stepSet(0)
	for step := range c.steps {
		if !done.has(step) && c.can(step, done) && ends[done|1<<step] {
			want |= 1 << step
		}
	}
	next := c.asSet(x.Next())
	if next&^want != 0 || exact && next != want || next == 0 && done != c.all() {
		return fmt.Errorf("next:%s\nwant:%s", c.setText(next), c.setText(want))
	}
	for _, v := range x.Held() {
		step := c.number[v]
		c.tally.count("steps held back", true)
		if exact && c.can(step, done) && ends[done|1<<step] {
			return fmt.Errorf("%s is held back", c.stepName(step))
		}
	}
	for _, v := range x.Order() {
		step := c.number[v]
		if !c.can(step, done) {
			return fmt.Errorf("in the order that is left, %s cannot be done", c.stepName(step))
		}
		done |= 1 << step
	}
	if done != c.all() {
		return fmt.Errorf("the order that is left has only%s", c.setText(done))
	}
	return nil
}

// compareRests looks at many sets of done steps, in valid orders or not.
func compareRests(d *draft, r *rand.Rand, t kitTally) error {
	kit, err := kits.Read("random.yaml", []byte(d.text()))
	if err != nil || d.ring {
		return nil // the other oracle test looks at these
	}
	rep, err := explain.Check(kit)
	if err != nil || rep.Sequence == nil {
		return err
	}
	o := newOracle(d)
	c := &restComparison{comparison: &comparison{oracle: o, tally: t, kit: kit}, builder: o, q: rep.Sequence, ends: map[plan.Relaxation][]bool{}}
	if err := c.numberSteps(rep.Constraints); err != nil {
		return err
	}
	t["kits"]++
	for range 40 {
		done := stepSet(r.UintN(uint(o.all()) + 1))
		if err := c.compare(done); err != nil {
			return fmt.Errorf("done:%s\n%w", o.setText(done), err)
		}
		if err := c.compareShut(done); err != nil {
			return fmt.Errorf("done:%s\n%w", o.setText(done), err)
		}
	}
	return c.compareStart()
}

// compareShut checks that a step is reported as shut out exactly if one of its
// pieces or wires finds no way into a space at once, under the allowance of the
// rest.
func (c *restComparison) compareShut(done stepSet) error {
	list := make([]bool, len(c.number))
	for v, step := range c.number {
		list[v] = done.has(step)
	}
	x := c.q.Remaining(list)
	if x.Relaxation == c.q.Solution.Relaxation && x.Relaxation != (plan.Relaxation{}) {
		return nil // not every entry has the allowance
	}
	c.allowed = x.Relaxation
	for v, step := range c.number {
		if done.has(step) || slices.ContainsFunc(c.entries[step], func(e oracleEntry) bool { return c.apart(e, done) }) {
			continue
		}
		want := !c.goesIn(step, done)
		// Where joins open again it is known only of steps that were tried.
		if got := len(x.Inaccessible(v)) > 0; got && !want || want && !got && !x.Relaxation.Reopen {
			return fmt.Errorf("%s is shut out: %v, want %v", c.stepName(step), got, want)
		}
		c.tally.count("steps shut out", want)
	}
	return nil
}

// apart tells whether what carries a wire is not in one group yet, so that it waits.
func (c *restComparison) apart(e oracleEntry, done stepSet) bool {
	return slices.ContainsFunc(e.seats, func(p int) bool { return !c.inOneGroup(done, p, e.seats[0]) })
}

// compareStart: with nothing done, and after each part of the sequence, what is left is
// the sequence.
func (c *restComparison) compareStart() error {
	done := make([]bool, len(c.number))
	for i, v := range c.q.Order {
		if x := c.q.Remaining(done); !slices.Equal(x.Order(), c.q.Order[i:]) {
			return fmt.Errorf("after %d steps of the sequence the order is %v, want %v", i, x.Order(), c.q.Order[i:])
		}
		done[v] = true
	}
	return nil
}

func TestRestOracle(t *testing.T) {
	number := kitstest.Rounds(t, 4000, 400)
	least := 60 * number / 4000
	total := kitTally{}
	for i := range number {
		r := rand.New(rand.NewPCG(1991, uint64(i)))
		d := generateDraft(r)
		if err := compareRests(d, r, total); err != nil {
			t.Fatalf("kit %d: %v\n%s", i, err, d.text())
		}
	}
	for _, what := range []string{"states that cannot be finished", "states that can be finished", "states that ask for more", "steps held back", "steps shut out"} {
		if t.Logf("%6d %s", total[what], what); total[what] < least {
			t.Errorf("%d %s, want at least %d", total[what], what, least)
		}
	}
}

// With travels, a state is one that a careless builder can get to: what a step needs is
// there, but others may be shut out.
func TestRestTravelOracle(t *testing.T) {
	number := kitstest.Rounds(t, 1500, 150)
	least := 60 * number / 1500
	total := kitTally{}
	for i := range number {
		r := rand.New(rand.NewPCG(1992, uint64(i)))
		d := generateTravels(r)
		if err := compareTravelRests(d, r, total); err != nil {
			t.Fatalf("kit %d: %v\n%s%s", i, err, d.text(), d.relations())
		}
	}
	for _, what := range []string{"states that cannot be finished", "states that can be finished", "states that ask for more", "steps held back"} {
		if t.Logf("%6d %s", total[what], what); total[what] < least {
			t.Errorf("%d %s, want at least %d", total[what], what, least)
		}
	}
}

func compareTravelRests(d travelDraft, r *rand.Rand, t kitTally) error {
	rep, err := d.check()
	if err != nil || rep.Sequence == nil {
		return err
	}
	o := newTravelOracle(d)
	c := &restComparison{comparison: &comparison{oracle: o.oracle, tally: t, kit: rep.Kit}, builder: o, q: rep.Sequence, ends: map[plan.Relaxation][]bool{}}
	if err := c.numberSteps(rep.Constraints); err != nil {
		return err
	}
	for range 6 {
		done := stepSet(0)
		careless := plan.Relaxation{Turning: true, Reopen: true}
		c.allowed = careless
		for range o.steps {
			if step := r.IntN(o.steps); !done.has(step) && o.can(step, done) {
				done |= 1 << step
			}
			if err := c.compare(done); err != nil {
				return fmt.Errorf("done:%s\n%w", o.setText(done), err)
			}
			c.allowed = careless
		}
	}
	return c.compareStart()
}
