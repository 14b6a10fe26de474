package plan_test

import (
	"errors"
	"fmt"
	"maps"
	"math/big"
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
	"dryfit/plan/precedence"
)

// A kitTally counts what the kits had, so that one sees that all cases came up.
type kitTally map[string]int

func (t kitTally) count(what string, is bool) {
	if is {
		t[what]++
	}
}

// comparison holds one kit as the oracle and as the program see it.
type comparison struct {
	*oracle
	tally    kitTally
	kit      *kits.Kit
	number   []int // step of the program -> step of the oracle
	solvable bool
}

// compareDraft returns the first thing about which oracle and program disagree.
func compareDraft(d *draft, t kitTally) (err error) {
	defer func() { // the kit must be told even then
		if p := recover(); p != nil {
			err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
		}
	}()
	t["kits"]++
	kit, err := kits.Read("random.yaml", []byte(d.text()))
	if d.ring {
		t["rings"]++
		if err == nil {
			return fmt.Errorf("a ring of joins was read without an error")
		}
		return nil
	}
	if err != nil {
		return fmt.Errorf("valid kit rejected: %v", err)
	}
	c := &comparison{oracle: newOracle(d), tally: t, kit: kit}
	c.solvable = c.solve()
	for _, check := range []func() error{c.compareItself, c.compareSolution, c.compareReport} {
		if err := check(); err != nil {
			return err
		}
	}
	return nil
}

// compareItself compares the two halves of the oracle with each other: there is
// an order exactly if the model can be taken apart.
func (c *comparison) compareItself() error {
	if stuck := c.stuck(); (stuck == 0) != c.solvable {
		return fmt.Errorf("oracle: an order: %v, but stuck when taken apart:%s", c.solvable, c.setText(stuck))
	}
	return nil
}

func (c *comparison) compareSolution() error {
	rules := plan.Derive(c.kit)
	if err := c.numberSteps(rules); err != nil {
		return err
	}
	s := rules.Solve()
	if c.solvable && s.Relaxation != c.allowed {
		return fmt.Errorf("allowance %+v, want %+v", s.Relaxation, c.allowed)
	}
	if got, want := c.asSet(s.Stuck), c.stuck(); got != want {
		return fmt.Errorf("stuck:%s\nwant:%s", c.setText(got), c.setText(want))
	}
	return nil
}

// numberSteps finds the oracle's number for each step of the program.
func (c *comparison) numberSteps(r *plan.Constraints) error {
	seen := stepSet(0)
	for _, s := range r.Steps {
		n := -1
		switch {
		case s.Join != nil:
			n = slices.Index(c.kit.Joins, s.Join)
		case s.Wire != nil:
			n = len(c.joins) + slices.Index(c.kit.Wires, s.Wire)
		case s.Task != nil:
			n = len(c.joins) + len(c.wires) + slices.Index(c.kit.Tasks, s.Task)
		}
		c.number = append(c.number, n)
		seen |= 1 << n
	}
	if len(c.number) != c.steps || seen != c.all() {
		return fmt.Errorf("steps %v, want each of %d once", c.number, c.steps)
	}
	return nil
}

func (c *comparison) asSet(steps []int) (s stepSet) {
	for _, step := range steps {
		s |= 1 << c.number[step]
	}
	return s
}

func (c *comparison) compareReport() error {
	report, err := explain.Check(c.kit)
	if err != nil {
		return err
	}
	good := c.solvable && len(c.barred) == 0 && !c.loose()
	if report.OK() != good || (report.Sequence != nil) != good {
		return fmt.Errorf("OK %v, a sequence: %v; want both %v (an order: %v, barred: %v, loose: %v)\n%s",
			report.OK(), report.Sequence != nil, good, c.solvable, c.barred, c.loose(), findingText(report.Findings))
	}
	if err := c.compareFindings(report.Findings, good); err != nil {
		return fmt.Errorf("%w\n%s", err, findingText(report.Findings))
	}
	if good {
		return c.compareSequence(report.Sequence)
	}
	return nil
}

// compareFindings looks at which kinds there are and, of those that rest on the
// order, at the pieces they name.
func (c *comparison) compareFindings(findings []plan.Finding, good bool) error {
	kinds := map[string]int{}
	for _, f := range findings {
		kinds[f.Kind]++
	}
	c.countKit(kinds)
	ordered := kinds[plan.Trapped]+kinds[plan.Cycle] == 0
	switch {
	case (kinds[plan.Loose] > 0) != c.loose():
		return fmt.Errorf("%d findings of loose pieces, want some: %v", kinds[plan.Loose], c.loose())
	case !slices.Equal(namedIn(findings, plan.Unreachable), sortedOnce(c.barred)):
		return fmt.Errorf("unreachable %v, want %v", namedIn(findings, plan.Unreachable), sortedOnce(c.barred))
	case !c.loose() && ordered != c.solvable:
		return fmt.Errorf("trapped or in a cycle: %v, but an order: %v", !ordered, c.solvable)
	case good && c.allowed.Turning && kinds[plan.Turning] == 0:
		return fmt.Errorf("turning is needed, but no caution says so")
	case good && c.allowed.Reopen && kinds[plan.Reopened] == 0:
		return fmt.Errorf("reopening is needed, but no caution says so")
	}
	return errors.Join(c.compareRoots(findings), c.compareRepairs(findings))
}

// namedIn lists what the findings of a kind name. One that concerns no piece
// names the step, which for a wire is the wire.
func namedIn(findings []plan.Finding, kind string) (ids []string) {
	for _, f := range findings {
		switch {
		case f.Kind != kind:
		case len(f.Pieces) == 0 && f.Piece == "":
			ids = append(ids, f.Step)
		default:
			ids = append(append(ids, f.Pieces...), f.Piece)
		}
	}
	return sortedOnce(slices.DeleteFunc(ids, func(id string) bool { return id == "" }))
}

// sortedOnce lists each name once.
func sortedOnce(names []string) []string { return slices.Compact(slices.Sorted(slices.Values(names))) }

// compareRepairs counts how often something is proposed.
func (c *comparison) compareRepairs(findings []plan.Finding) error {
	for _, f := range findings {
		if f.Kind != plan.Trapped && f.Kind != plan.Cycle {
			continue
		}
		c.tally.count("findings", true)
		c.tally.count("findings with repairs", len(f.Repairs) > 0)
		if slices.ContainsFunc(f.Repairs, func(r plan.Repair) bool { return strings.TrimSpace(r.Text) == "" }) {
			return fmt.Errorf("a repair says nothing: %+v", f)
		}
	}
	return nil
}

// compareRoots asks that each root has its finding, which names what is shut in
// there and nothing that is merely behind it.
func (c *comparison) compareRoots(findings []plan.Finding) error {
	var got, want []string
	stuck := c.stuck()
	for _, root := range c.roots(stuck) {
		if c.waitsForItself(root) {
			want = append(want, "[]") // a cycle, whatever is shut in there
			continue
		}
		want = append(want, fmt.Sprint(c.shutIn(root, stuck)))
	}
	for _, f := range findings {
		switch f.Kind {
		case plan.Trapped:
			got = append(got, fmt.Sprint(namedIn([]plan.Finding{f}, plan.Trapped)))
		case plan.Cycle:
			got = append(got, "[]")
		}
	}
	if c.opensAnyOf(stuck) {
		// What waits for what depends on what was learned first.
		if (len(got) == 0) != (len(want) == 0) {
			return fmt.Errorf("trapped, by finding: %v, want %v", got, want)
		}
		return nil
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		return fmt.Errorf("trapped, by finding: %v, want %v", got, want)
	}
	return nil
}

// opensAnyOf tells whether one of some joins opens.
func (c *comparison) opensAnyOf(steps stepSet) bool {
	for s := range c.joins {
		if steps.has(s) && c.opensAgain(s) {
			return true
		}
	}
	return false
}

func (c *comparison) countKit(kinds map[string]int) {
	c.tally.count("solvable", c.solvable)
	c.tally.count("turning", c.solvable && c.allowed.Turning)
	c.tally.count("reopening", c.solvable && c.allowed.Reopen)
	c.tally.count("turning and reopening", c.solvable && c.allowed.Turning && c.allowed.Reopen)
	c.tally.count("trapped", kinds[plan.Trapped] > 0)
	c.tally.count("in a cycle", kinds[plan.Cycle] > 0)
	c.tally.count("unreachable", len(c.barred) > 0)
	c.tally.count("loose", c.loose())
}

func (c *comparison) compareSequence(q *plan.Sequence) error {
	if q.Solution.Relaxation != c.allowed {
		return fmt.Errorf("sequence under %+v, want %+v", q.Solution.Relaxation, c.allowed)
	}
	var order []int
	for _, step := range q.Order {
		order = append(order, c.number[step])
	}
	if err := c.follow(order); err != nil {
		return err
	}
	if err := c.compareCount(q.Solution.System, q.Freedom().Loose); err != nil {
		return err
	}
	spans := c.spans()
	// With little effort the latest places become bounds.
	for _, f := range []*precedence.Freedom{q.Freedom(), q.Solution.System.Freedom(0), q.Solution.System.Freedom(2)} {
		if q.Freedom().Loose {
			f.Loosen()
		}
		if err := c.compareFreedom(f, spans); err != nil {
			return err
		}
	}
	return nil
}

func (c *comparison) compareFreedom(f *precedence.Freedom, spans []stepSpan) error {
	for v, step := range c.number {
		got := stepSpan{f.Earliest[v], f.Latest[v], c.asSet(f.Before(v)), c.asSet(f.After(v))}
		want := spans[step]
		if f.Bound[v] && got.latest >= want.latest {
			c.tally.count("latest places that are bounds", true)
			got.latest = want.latest
		}
		// Where what is taken off is not stated as clauses, these leave more orders than there are.
		wider := f.Loose && got.earliest <= want.earliest && got.latest >= want.latest && got.before&^want.before == 0 && got.after&^want.after == 0
		if f.Loose {
			c.tally.count("places that are bounds on both sides", true)
		}
		if got != want && !wider {
			return fmt.Errorf("%s: earliest and latest, before and after %v, want %v", c.stepName(step), got, want)
		}
	}
	return nil
}

func (c *comparison) compareCount(s *precedence.System, loose bool) error {
	got, err := s.CountOrders(1 << c.steps)
	if err != nil {
		return err
	}
	orders, sets := c.countOrders()
	more := got.Orders.Cmp(big.NewInt(orders))
	if loose && more >= 0 && got.Sets >= sets {
		return nil
	}
	if more != 0 || got.Sets != sets {
		return fmt.Errorf("%v orders with %d sets, want %d with %d", got.Orders, got.Sets, orders, sets)
	}
	return nil
}

func findingText(findings []plan.Finding) string {
	b := &strings.Builder{}
	for _, f := range findings {
		fmt.Fprintf(b, "%s %s %v: %s\n", f.Kind, f.Piece, f.Pieces, f.Text)
		for _, r := range f.Because {
			fmt.Fprintf(b, "  because %s %s\n", r.At, r.Text)
		}
		for _, r := range f.Repairs {
			fmt.Fprintf(b, "  repair %s\n", r.Text)
		}
	}
	return b.String()
}

func TestOracle(t *testing.T) {
	number := kitstest.Rounds(t, 30000, 2000)
	least := 200 * number / 30000
	total := compareDrafts(t, number)
	for _, what := range slices.Sorted(maps.Keys(total)) {
		t.Logf("%6d %s", total[what], what)
	}
	t.Logf("%d %% of the findings of trapped pieces and cycles have repairs", 100*total["findings with repairs"]/max(1, total["findings"]))
	for _, what := range []string{"solvable", "turning", "reopening", "trapped", "in a cycle", "unreachable", "loose", "latest places that are bounds"} {
		least := least
		if what == "reopening" {
			least /= 2 // few kits have what opens just where it is needed
		}
		if total[what] < least && !t.Failed() {
			t.Errorf("%d kits: %s, want at least %d, or the generator does not cover it", total[what], what, least)
		}
	}
}

// compareDrafts compares a number of kits on all processors, until one fails.
func compareDrafts(t *testing.T, number int) kitTally {
	total := kitTally{}
	var mutex sync.Mutex
	var crew sync.WaitGroup
	workers := runtime.GOMAXPROCS(0)
	for w := range workers {
		crew.Go(func() {
			own := kitTally{}
			for i := w; i < number && !t.Failed(); i += workers {
				d := generateDraft(rand.New(rand.NewPCG(1957, uint64(i))))
				if err := compareDraft(d, own); err != nil {
					t.Errorf("kit %d: %v\n%s", i, err, d.text())
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
