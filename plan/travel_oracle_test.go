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

// A travelOracle adds to the oracle that what a join moves must get to its seat: as
// a group, past what is in one group with the seat at that moment.
type travelOracle struct {
	*oracle
	g       *plan.Geometry
	leaving []int
	without travelFeature
}

// A travelFeature is left out to see whether a kit depends on it.
type travelFeature string

const (
	nothingLess travelFeature = ""
	noTravel    travelFeature = "travel"
	noUnits     travelFeature = "units that move as one"
	noToward    travelFeature = "a stated direction"
	noLegs      travelFeature = "ways of several legs"
	noUndercuts travelFeature = "undercuts"
	noClosings  travelFeature = "the travel of closings"
	noStanding  travelFeature = "what stands on the seat"
)

var travelFeatures = []travelFeature{noTravel, noUnits, noToward, noLegs, noUndercuts, noClosings, noStanding}

func newTravelOracle(d travelDraft) *travelOracle {
	sized := *d.draft
	sized.parts = slices.Clone(d.parts)
	for i, p := range sized.parts {
		if p.size == nil && len(p.pieces) > 0 && d.g.Measured[p.pieces[0]] {
			size := d.g.Sizes[p.pieces[0]]
			sized.parts[i].size = size[:]
		}
	}
	return &travelOracle{oracle: newOracle(&sized), g: d.g, leaving: d.leaving}
}

// can tells whether a step can be done when those others are.
func (o *travelOracle) can(step int, done stepSet) bool {
	return o.oracle.can(step, done) && o.travels(step, done)
}

// travels tells whether all that a step moves gets to its seat. What the bare seat
// itself keeps out is a fault of its own, which no order mends.
func (o *travelOracle) travels(step int, done stepSet) bool {
	return !slices.ContainsFunc(o.moves(step), func(m piecePair) bool {
		return !o.keptOut(step, m) && !o.getsTo(step, m, o.groupOf(m[0], done), o.groupOf(m[1], done|1<<step))
	})
}

// moves lists the pieces a step moves and what each goes to.
func (o *travelOracle) moves(step int) (moves []piecePair) {
	if step >= len(o.joins) || o.without == noTravel {
		return nil
	}
	j := o.joins[step]
	if j.to == nil {
		return []piecePair{{j.pieces[1], j.pieces[0]}}
	}
	for _, p := range j.pieces {
		moves = append(moves, piecePair{p, j.to[0]})
	}
	return moves
}

func (o *travelOracle) keptOut(step int, m piecePair) bool {
	return !o.getsTo(step, m, []int{m[0]}, []int{m[1]})
}

// outs lists the moves that the bare seat keeps out, by step and piece.
func (o *travelOracle) outs() (outs []string) {
	for step := range o.steps {
		for _, m := range o.moves(step) {
			if o.keptOut(step, m) {
				outs = append(outs, fmt.Sprint(step, " ", o.pieceID(m[0])))
			}
		}
	}
	return sortedOnce(outs)
}

// getsTo tells whether a piece, with the unit joined to it, gets to its seat when
// the fixed pieces are joined to that. A way of several legs is known for the piece
// alone, so it is none for what may have something on it.
func (o *travelOracle) getsTo(step int, m piecePair, unit, fixed []int) bool {
	closing := o.joins[step].to == nil
	if o.without == noUnits {
		unit = []int{m[0]}
	}
	if o.without == noStanding {
		fixed = []int{m[1]}
	}
	if o.without == noClosings && closing {
		return true
	}
	for d := range o.g.Directions {
		if o.mayLeave(step, d) && !slices.ContainsFunc(unit, func(p int) bool { return o.hindered(step, p, o.inTheWay(p, d), unit, fixed) }) {
			return true
		}
	}
	alone := !closing && !o.joins[step].bench || len(o.groupOf(m[0], o.all()&^(1<<step))) == 1
	return alone && o.without != noLegs && slices.ContainsFunc(o.g.Legs[m[0]], func(l plan.Legs) bool {
		first := slices.Index(o.g.Directions, l.Legs[0].Toward)
		said := o.leaving[step] >= 0 && o.without != noToward
		return (!said || first == o.leaving[step]) && !o.hindered(step, m[0], l.InTheWay, unit, fixed)
	})
}

// hindered tells whether a moved piece meets a fixed one. Copies that go in together
// do not meet each other, and what is held by a join that opens can be taken off.
func (o *travelOracle) hindered(step, moved int, list []int32, unit, fixed []int) bool {
	return slices.ContainsFunc(list, func(other int32) bool {
		q, fits := int(other), o.joins[step]
		switch {
		case !slices.Contains(fixed, q) || slices.Contains(unit, q):
			return false
		case fits.to != nil && slices.Contains(fits.pieces, moved) && slices.Contains(fits.pieces, q):
			return false
		}
		return !o.allowed.Reopen || !o.comesApart(step, moved, q)
	})
}

// comesApart tells whether some join between two pieces, but for the step's own, can
// be undone again.
func (o *travelOracle) comesApart(step, a, b int) bool {
	for s := range o.joins {
		if s != step && o.tiesTogether(s, a, b) && o.opensAgain(s) && !o.spanned.has(s) {
			return true
		}
	}
	return false
}

func (o *travelOracle) groupOf(piece int, done stepSet) (group []int) {
	for p := range o.owner {
		if o.inOneGroup(done, p, piece) {
			group = append(group, p)
		}
	}
	return group
}

// mayLeave tells whether what a join moves may leave in a direction. Closing moves
// either half, so either sense of what is said will do.
func (o *travelOracle) mayLeave(step, d int) bool {
	said := o.leaving[step]
	return o.without == noToward || said < 0 || d == said || o.joins[step].to == nil && d == said^1
}

// inTheWay lists what keeps a piece from leaving in a direction; what it passes an
// undercut of does not.
func (o *travelOracle) inTheWay(p, d int) []int32 {
	return slices.DeleteFunc(slices.Clone(o.g.InTheWay[d][p]), func(q int32) bool {
		return o.without != noUndercuts && slices.ContainsFunc(o.g.Undercuts[p], func(u plan.Undercut) bool {
			return u.Direction == d && slices.Contains(u.Past, q)
		})
	})
}

// solve tries all orders under the allowances in turn.
func (o *travelOracle) solve() bool {
	return slices.ContainsFunc(oracleAllowances, func(a plan.Relaxation) bool {
		o.allowed = a
		return o.finishable()[0]
	})
}

// finishable tells of each set of steps done whether the rest can still be done.
func (o *travelOracle) finishable() []bool {
	ends := make([]bool, o.all()+1)
	ends[o.all()] = true
	for done := int(o.all()) - 1; done >= 0; done-- {
		for step := range o.steps {
			s := stepSet(done)
			ends[done] = ends[done] || !s.has(step) && ends[s|1<<step] && o.can(step, s)
		}
	}
	return ends
}

// follow builds in one order and returns the first place where it goes wrong.
func (o *travelOracle) follow(order []int) error {
	done := stepSet(0)
	for i, step := range order {
		if done.has(step) || !o.can(step, done) {
			return fmt.Errorf("step %d of the order, %s, cannot be done", i+1, o.stepName(step))
		}
		done |= 1 << step
	}
	if done != o.all() {
		return fmt.Errorf("the order has %d of %d steps", len(order), o.steps)
	}
	return nil
}

// stuck lists the steps that come off in no way of taking the model apart.
func (o *travelOracle) stuck() stepSet {
	left := make([]bool, o.all()+1)
	left[o.all()] = true
	never := o.all()
	for i := int(o.all()); i >= 0; i-- {
		if !left[i] {
			continue
		}
		rest := stepSet(i)
		never &= rest
		for step := range o.steps {
			if rest.has(step) && o.comesOff(step, rest) && o.travels(step, rest&^(1<<step)) {
				left[rest&^(1<<step)] = true
			}
		}
	}
	return never
}

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

// compareBlocked: what is said to be blocked is kept out by its seat, or is stuck
// and something is in its way; and all that its seat keeps out is said.
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

// compareManyTravels compares so many kits on all processors, until one fails.
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
