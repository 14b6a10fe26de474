package plan_test

import (
	"fmt"
	"maps"
	"math/rand/v2"
	"runtime"
	"runtime/debug"
	"slices"
	"strings"
	"sync"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// A travelComparison holds one measured kit as the oracle and the program see it.
type travelComparison struct {
	*travelOracle
	measured travelDraft
	tally    kitTally
	number   comparison // numbers the steps of the program
	report   *plan.Project
	solvable bool
}

// compareTravels returns the first thing about which oracle and program disagree.
func compareTravels(d travelDraft, t kitTally) (err error) {
	defer func() { // the kit must be told even then
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
		}
	}()
	c := &travelComparison{travelOracle: newTravelOracle(d), measured: d, tally: t}
	c.solvable = c.solve()
	if c.report, err = d.check(); err != nil {
		return err
	}
	c.number = comparison{oracle: c.oracle, kit: c.report.Kit}
	if err := c.number.numberSteps(c.report.Constraints); err != nil {
		return err
	}
	c.countKit()
	for _, check := range []func() error{c.compareVerdict, c.compareStuck, c.compareOrder, c.compareBlocked, c.compareRepairs} {
		if err := check(); err != nil {
			return fmt.Errorf("%w\n%s", err, findingText(c.report.Findings))
		}
	}
	return nil
}

func (d travelDraft) check() (*plan.Project, error) {
	kit, err := kits.Read("random.yaml", []byte(d.text()))
	if err != nil {
		return nil, fmt.Errorf("valid kit rejected: %v", err)
	}
	return explain.CheckMeasured(kit, d.g)
}

// compareVerdict: there is no fault, and a sequence, exactly if there is an order.
func (c *travelComparison) compareVerdict() error {
	good := c.solvable && len(c.barred)+len(c.outs()) == 0 && !c.loose()
	if c.report.OK() != good || (c.report.Sequence != nil) != good {
		return fmt.Errorf("OK %v, a sequence: %v; want both %v (an order: %v, barred: %v, kept out: %v, loose: %v)",
			c.report.OK(), c.report.Sequence != nil, good, c.solvable, c.barred, c.outs(), c.loose())
	}
	return nil
}

func (c *travelComparison) compareStuck() error {
	if c.solvable && c.report.Solution.Relaxation != c.allowed {
		return fmt.Errorf("allowance %+v, want %+v", c.report.Solution.Relaxation, c.allowed)
	}
	if got, want := c.number.asSet(c.report.Solution.Stuck), c.stuck(); got != want || (want == 0) != c.solvable {
		return fmt.Errorf("stuck:%s\nwant:%s\nan order: %v", c.setText(got), c.setText(want), c.solvable)
	}
	return nil
}

func (c *travelComparison) compareOrder() error {
	if c.report.Sequence == nil {
		return nil
	}
	var order []int
	for _, step := range c.report.Sequence.Order {
		order = append(order, c.number.number[step])
	}
	switch told := find(c.report.Findings, plan.Reopened, "") != nil; {
	case c.allowed.Reopen && !told:
		return fmt.Errorf("reopening is needed, but no caution says so")
	case c.allowed != c.report.Sequence.Solution.Relaxation:
		return fmt.Errorf("sequence under %+v, want %+v", c.report.Sequence.Solution.Relaxation, c.allowed)
	}
	if err := c.follow(order); err != nil {
		return fmt.Errorf("%w; the order is %v", err, order)
	}
	return nil
}

// compareBlocked checks that what is reported as blocked is kept out by its seat,
// or is stuck with something in its way; and that all that its seat keeps out is
// reported.
func (c *travelComparison) compareBlocked() error {
	said := namedIn(c.report.Findings, plan.Blocked)
	for _, out := range c.outs() {
		_, piece, _ := strings.Cut(out, " ")
		if c.tally["kept out by the seat"]++; !slices.Contains(said, piece) {
			return fmt.Errorf("not said to be blocked: %s", piece)
		}
	}
	for _, f := range c.report.Findings {
		if f.Kind != plan.Blocked || f.Grade != plan.Fault {
			continue
		}
		c.tally["blocked"]++
		steps := c.number.asSet(c.report.StepsOf(f))
		switch {
		case len(f.Because) == 0:
			return fmt.Errorf("blocked for no reason: %s", f.Text)
		case byItsSeat(f) && slices.ContainsFunc(c.outs(), func(out string) bool { return strings.HasSuffix(out, " "+f.Piece) }):
		case steps&c.stuck() == 0:
			return fmt.Errorf("said to be blocked, but none of it is stuck: %s", f.Text)
		case !anyReason(f.Because, "way"):
			return fmt.Errorf("said to be blocked, but nothing is in the way: %s", f.Text)
		}
	}
	return nil
}

// byItsSeat tells whether a finding is of a piece that its bare seat keeps out.
func byItsSeat(f plan.Finding) bool {
	return strings.Contains(f.Text, "what it goes onto is in its way")
}

// compareRepairs carries each repair out in the kit: something must come free by it,
// and nothing else get stuck.
func (c *travelComparison) compareRepairs() error {
	for _, f := range c.report.Findings {
		if f.Grade != plan.Fault || f.Kind == plan.Unreachable || f.Kind == plan.Loose {
			continue
		}
		for _, r := range f.Repairs {
			c.tally["repairs"]++
			mended, kind := c.measured.repaired(r.Text)
			if kind == "" {
				continue
			}
			c.tally["repairs carried out: "+kind]++
			o := newTravelOracle(mended)
			if err := c.compareRepaired(f, r, o); err != nil {
				return err
			}
		}
	}
	return nil
}

func (c *travelComparison) compareRepaired(f plan.Finding, r plan.Repair, mended *travelOracle) error {
	solved, before, after := mended.solve(), c.outs(), mended.outs()
	if slices.ContainsFunc(after, func(out string) bool { return !slices.Contains(before, out) }) || byItsSeat(f) && len(after) == len(before) {
		return fmt.Errorf("repair %q leaves kept out %v, which were %v", r.Text, after, before)
	}
	if mended.loose() && !c.loose() {
		return fmt.Errorf("repair %q leaves pieces loose", r.Text)
	}
	if solved || byItsSeat(f) {
		return nil
	}
	if left := mended.stuck(); left == c.stuck() || left&^c.stuck() != 0 {
		return fmt.Errorf("repair %q leaves stuck:%s\nof the finding %s", r.Text, mended.setText(left), f.Text)
	}
	return nil
}

// countKit counts on what the kit's answer depends.
func (c *travelComparison) countKit() {
	c.tally["kits"]++
	c.tally.count("solvable", c.solvable)
	for _, f := range travelFeatures {
		o := newTravelOracle(c.measured)
		o.without = f
		c.tally.count("depends on "+string(f), o.solve() != c.solvable)
	}
}

func TestTravelOracle(t *testing.T) {
	number := kitstest.Rounds(t, 8000, 800)
	least := 40 * number / 8000
	total := compareManyTravels(t, number)
	for _, what := range slices.Sorted(maps.Keys(total)) {
		t.Logf("%6d %s", total[what], what)
	}
	wanted := []string{"solvable", "blocked", "repairs"}
	for _, f := range travelFeatures {
		wanted = append(wanted, "depends on "+string(f))
	}
	for _, what := range wanted {
		if total[what] < least && !t.Failed() {
			t.Errorf("%d kits: %s, want at least %d, or the generator does not cover it", total[what], what, least)
		}
	}
}

// compareManyTravels compares a number of kits on all processors, until one
// fails.
func compareManyTravels(t *testing.T, number int) kitTally {
	total := kitTally{}
	var mutex sync.Mutex
	var crew sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		crew.Go(func() {
			own := kitTally{}
			for i := w; i < number && !t.Failed(); i += workers {
				d := generateTravels(rand.New(rand.NewPCG(1987, uint64(i))))
				if err := compareTravels(d, own); err != nil {
					t.Errorf("kit %d: %v\n%s%s", i, err, d.text(), d.relations())
				}
			}
			mutex.Lock()
			defer mutex.Unlock()
			for what, n := range own {
				total[what] += n
			}
		})
	}
	crew.Wait()
	return total
}
