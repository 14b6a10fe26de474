package plan_test

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"math/big"
	"math/bits"
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

// The oracle says by brute force what package plan must find out by thinking.
// It builds the model forward: its state is the set of steps done so far, a step
// can be done or not in a state, and all states are tried. What is in the way is
// looked up in the groups of that state, not in sets of joins. Only the steps
// left over in an unsolvable kit are found by taking apart, and that too by
// trying every possible way.
type oracle struct {
	*draft
	steps    int
	tied     [][]int8        // set of steps done -> piece -> its group
	needs    []stepSet       // step -> steps that come before it
	together [][]piecePair   // step -> pieces that must be in one group before it
	entries  [][]oracleEntry // step -> what must get in with it
	spanned  stepSet         // steps that cannot be undone, since something spans them
	within   []map[int]bool  // piece -> the spaces it is in
	barred   []string        // what no opening of some space lets in
	allowed  plan.Relaxation // of all that follows
	doable   []bool          // set of steps done -> can be reached
	endable  []bool          // set of steps done -> can be finished
}

type stepSet uint16

type piecePair [2]int

func (s stepSet) has(step int) bool { return s>>step&1 != 0 }

// An oracleEntry is a piece or a wire that must get into one space.
type oracleEntry struct {
	piece int // -1 for a wire
	seat  int // the piece it is seen from
	doors []oracleDoor
}

type oracleDoor struct {
	closer  int // -1 if never covered
	pass    oraclePass
	reopens bool
}

type oraclePass int

const (
	passNever oraclePass = iota
	passTurned
	passStraight
)

var oracleAllowances = []plan.Relaxation{{}, {Reopen: true}, {Turning: true}, {Turning: true, Reopen: true}}

func newOracle(d *draft) *oracle {
	o := &oracle{draft: d, steps: len(d.joins) + len(d.wires) + len(d.tasks)}
	o.needs = make([]stepSet, o.steps)
	o.together = make([][]piecePair, o.steps)
	o.entries = make([][]oracleEntry, o.steps)
	o.buildGroups()
	o.placeInSpaces()
	o.addStatedOrder()
	o.addCoats()
	o.addSeats()
	o.findSpanned()
	o.addEntries()
	return o
}

func (o *oracle) all() stepSet { return 1<<o.steps - 1 }

// buildGroups unites, for each set of joins done, what they tie together.
func (o *oracle) buildGroups() {
	alone := make([]int8, len(o.owner))
	for p := range alone {
		alone[p] = int8(p)
	}
	o.tied = append(o.tied, alone)
	for done := stepSet(1); done <= o.all(); done++ {
		last := bits.Len16(uint16(done)) - 1
		group := slices.Clone(o.tied[done&^(1<<last)])
		for _, tie := range o.ties(last) {
			uniteGroups(group, group[tie[0]], group[tie[1]])
		}
		o.tied = append(o.tied, group)
	}
}

func uniteGroups(group []int8, a, b int8) {
	for p := range group {
		if group[p] == a {
			group[p] = b
		}
	}
}

// ties lists the pairs of pieces a step ties together.
func (o *oracle) ties(step int) (ties []piecePair) {
	if step >= len(o.joins) {
		return nil
	}
	j := o.joins[step]
	if j.to == nil {
		return []piecePair{{j.pieces[0], j.pieces[1]}}
	}
	for _, p := range j.pieces {
		ties = append(ties, piecePair{p, j.to[0]})
	}
	return ties
}

func (o *oracle) inOneGroup(done stepSet, a, b int) bool { return o.tied[done][a] == o.tied[done][b] }

// tiesTogether tells whether the two are one group in the end, and not without the step.
func (o *oracle) tiesTogether(step, a, b int) bool {
	return o.inOneGroup(o.all(), a, b) && !o.inOneGroup(o.all()&^(1<<step), a, b)
}

// placeInSpaces finds the spaces each piece is in, those around included.
func (o *oracle) placeInSpaces() {
	o.within = make([]map[int]bool, len(o.owner))
	for p := range o.owner {
		o.within[p] = map[int]bool{}
	}
	for i, s := range o.spaces {
		for _, name := range s.holds {
			for _, p := range o.piecesOf(name) {
				o.addAround(o.within[p], i)
			}
		}
	}
}

func (o *oracle) addAround(in map[int]bool, space int) {
	for ; space >= 0; space = o.spaces[space].inside {
		in[space] = true
	}
}

func (o *oracle) need(before, after int) { o.needs[after] |= 1 << before }

func (o *oracle) addStatedOrder() {
	for s := range o.steps {
		for _, name := range o.order(s).after {
			for _, t := range o.named(name) {
				o.need(t, s)
			}
		}
		for _, name := range o.order(s).before {
			for _, t := range o.named(name) {
				o.need(s, t)
			}
		}
	}
}

func (o *oracle) addCoats() {
	for i, t := range o.tasks {
		if !t.coat {
			continue
		}
		coat := len(o.joins) + len(o.wires) + i
		for p, part := range o.owner {
			switch o.parts[part].paint {
			case "outside":
				for _, s := range o.standing(p) {
					o.need(s, coat)
				}
			case "off-model":
				if s := o.fitting(p); s >= 0 {
					o.need(coat, s)
				}
			}
		}
	}
}

// addSeats asks that what a step stands on is in place, and in one group where
// there are several. A closing is what makes one group of its two.
func (o *oracle) addSeats() {
	for s := range o.steps {
		on := o.standsOn(s)
		for i, p := range on {
			if f := o.fitting(p); f >= 0 && !o.joins[f].bench {
				o.need(f, s)
			}
			closing := s < len(o.joins) && o.joins[s].to == nil
			if i > 0 && !closing && o.inOneGroup(o.all(), on[0], p) {
				o.together[s] = append(o.together[s], piecePair{on[0], p})
			}
		}
	}
}

// findSpanned marks the joins that hold something fitted to both sides, or that
// a wire is threaded through.
func (o *oracle) findSpanned() {
	for s := range o.steps {
		var across []int
		if w := s - len(o.joins); w >= 0 && w < len(o.wires) {
			across = o.wires[w].through
		} else if w < 0 && !o.opensAgain(s) {
			across = o.joins[s].to
		}
		for i := range across {
			for j := range o.joins {
				if o.tiesTogether(j, across[0], across[i]) {
					o.spanned |= 1 << j
				}
			}
		}
	}
}

func (o *oracle) opensAgain(join int) bool {
	j := o.joins[join]
	if j.opens != "" {
		return j.opens == "true"
	}
	for _, f := range draftFixings {
		if f.id == j.with {
			return f.opens
		}
	}
	panic("no such fixing: " + j.with)
}

// addEntries finds what must get into which space with each step. A piece that
// nothing fits is the base: the space is built round it.
func (o *oracle) addEntries() {
	for s, j := range o.joins {
		for _, p := range j.pieces {
			for space := range o.spaces {
				if j.to != nil && o.within[p][space] {
					size := o.parts[o.owner[p]].size
					if j.size != nil {
						size = j.size
					}
					o.addEntry(s, space, oracleEntry{piece: p, seat: j.to[0]}, size, o.within[p])
				}
			}
		}
	}
	for i, w := range o.wires {
		in := map[int]bool{}
		for _, space := range w.runsIn {
			o.addAround(in, space)
		}
		var size []float64
		if w.across > 0 {
			size = []float64{w.across, w.across, w.across}
		}
		for space := range in {
			o.addEntry(len(o.joins)+i, space, oracleEntry{piece: -1, seat: w.from}, size, in)
		}
	}
}

func (o *oracle) addEntry(step, space int, e oracleEntry, size []float64, in map[int]bool) {
	best := passNever
	for _, c := range o.spaces[space].shut {
		pass := o.passing(size, c)
		best = max(best, pass)
		if c.by == "" {
			e.doors = append(e.doors, oracleDoor{-1, pass, false})
		}
		for _, closer := range o.piecesOf(c.by) {
			e.doors = append(e.doors, oracleDoor{closer, pass, o.reopens(step, space, closer, e.seat, in)})
		}
	}
	if best == passNever {
		o.barred = append(o.barred, o.entryID(step, e)) // a fault of its own, which no order mends
		return
	}
	o.entries[step] = append(o.entries[step], e)
}

// reopens tells whether some join between the closer and the seat can be undone
// to let something into a space, at a step, on its way through those spaces. The
// step's own join cannot, nor can one of what is in the space itself.
func (o *oracle) reopens(step, into, closer, seat int, in map[int]bool) bool {
	others := map[int]bool{}
	for space := range in {
		others[space] = space != into
	}
	for s, j := range o.joins {
		if s != step && o.tiesTogether(s, closer, seat) && o.opensAgain(s) && !o.spanned.has(s) && (j.to == nil || o.inReach(j.pieces, others)) {
			return true
		}
	}
	return false
}

// inReach tells whether the pieces stand in no other spaces than these.
func (o *oracle) inReach(pieces []int, in map[int]bool) bool {
	for _, p := range pieces {
		for space := range o.within[p] {
			if !in[space] {
				return false
			}
		}
	}
	return true
}

// passing tells how something of a size gets through an opening.
func (o *oracle) passing(size []float64, c draftCloser) oraclePass {
	if size == nil || c.opening == nil {
		return passStraight
	}
	sides := slices.Clone(size)
	for i := range sides {
		sides[i] += o.clearance
	}
	if axis := strings.Index("xyz", c.facing); c.facing != "" {
		across := slices.Delete(slices.Clone(sides), axis, axis+1)
		if across[0] <= c.opening[0] && across[1] <= c.opening[1] {
			return passStraight
		}
	}
	slices.Sort(sides)
	switch {
	case !passesTurned(sides[0], sides[1], c.opening[0], c.opening[1]):
		return passNever
	case c.facing == "":
		return passStraight
	}
	return passTurned
}

// passesTurned tells whether a rectangle with the sides q <= p passes a by b at
// some angle. Turned by t it takes up p cos t + q sin t one way, which is
// r cos(t-f) with r its diagonal and f the angle of that, and r sin(t+f) the
// other way. Each has a range of t from 0 and one up to the right angle.
func passesTurned(q, p, a, b float64) bool {
	r, f := math.Hypot(p, q), math.Atan2(q, p)
	const right, touch = math.Pi / 2, 1e-9
	// where r cos(t-f) <= a: up to f-g, or from f+g on
	g := math.Acos(min(1, a/r))
	// where r sin(t+f) <= b: up to h-f, or from pi-h-f on
	h := math.Asin(min(1, b/r))
	first := [2][2]float64{{0, f - g}, {f + g, right}}
	second := [2][2]float64{{0, h - f}, {math.Pi - h - f, right}}
	for _, u := range first {
		for _, v := range second {
			if max(u[0], v[0]) <= min(u[1], v[1])+touch {
				return true
			}
		}
	}
	return false
}

// can tells whether a step can be done when those others are.
func (o *oracle) can(step int, done stepSet) bool {
	if o.needs[step]&^done != 0 {
		return false
	}
	for _, p := range o.together[step] {
		if !o.inOneGroup(done, p[0], p[1]) {
			return false
		}
	}
	return !slices.ContainsFunc(o.entries[step], func(e oracleEntry) bool { return !o.getsIn(e, done|1<<step) })
}

// getsIn tells whether one of the ways of the entry is open when those steps,
// its own among them, are done and no others.
func (o *oracle) getsIn(e oracleEntry, done stepSet) bool {
	return slices.ContainsFunc(e.doors, func(d oracleDoor) bool {
		switch {
		case d.pass == passNever, d.pass == passTurned && !o.allowed.Turning:
			return false
		case d.closer < 0, d.reopens && o.allowed.Reopen:
			return true
		}
		return !o.inOneGroup(done, d.closer, e.seat)
	})
}

// build tries all orders, state by state, and tells whether one gets to the end.
func (o *oracle) build(allowed plan.Relaxation) bool {
	o.allowed = allowed
	o.doable, o.endable = make([]bool, o.all()+1), make([]bool, o.all()+1)
	o.doable[0], o.endable[o.all()] = true, true
	o.eachMove(func(done stepSet, step int) { // adding a step makes a greater number
		if o.doable[done] {
			o.doable[done|1<<step] = true
		}
	})
	for done := int(o.all()); done >= 0; done-- {
		for step := range o.steps {
			if s := stepSet(done); !s.has(step) && o.endable[s|1<<step] && o.can(step, s) {
				o.endable[s] = true
			}
		}
	}
	return o.endable[0]
}

// eachMove calls do with each state and each step that can be done in it.
func (o *oracle) eachMove(do func(done stepSet, step int)) {
	for done := range o.all() {
		for step := range o.steps {
			if !done.has(step) && o.can(step, done) {
				do(done, step)
			}
		}
	}
}

// solve tries the allowances in turn.
func (o *oracle) solve() bool {
	return slices.ContainsFunc(oracleAllowances, o.build)
}

// A stepSpan is what the orders of a step have in common.
type stepSpan struct {
	earliest, latest int     // places, from 1
	before, after    stepSet // steps that always come before, or after it
}

// spans looks at each move that is part of an order from beginning to end.
func (o *oracle) spans() []stepSpan {
	spans := slices.Repeat([]stepSpan{{earliest: o.steps, before: o.all(), after: o.all()}}, o.steps)
	o.eachMove(func(done stepSet, step int) {
		if !o.doable[done] || !o.endable[done|1<<step] {
			return
		}
		s, place := &spans[step], bits.OnesCount16(uint16(done))+1
		s.earliest, s.latest = min(s.earliest, place), max(s.latest, place)
		s.before &= done
		s.after &^= done | 1<<step
	})
	return spans
}

// countOrders counts the orders and the states they pass through.
func (o *oracle) countOrders() (orders int64, states int) {
	ways := make([]int64, o.all()+1)
	ways[0], states = 1, 1 // the finished model is never left by a move
	o.eachMove(func(done stepSet, step int) { ways[done|1<<step] += ways[done] })
	for done := range o.all() {
		if o.doable[done] && o.endable[done] {
			states++
		}
	}
	return ways[o.all()], states
}

// follow builds in one order and returns the first place where it goes wrong.
func (o *oracle) follow(order []int) error {
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

// stuck lists the steps that come off in no way of taking the model apart. All
// ways are tried, as sets of what is left.
func (o *oracle) stuck() stepSet {
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
			if rest.has(step) && o.comesOff(step, rest) {
				left[rest&^(1<<step)] = true
			}
		}
	}
	return never
}

// comesOff tells whether a step can be the last of those that are left: nothing
// left needs it before itself, and what came in with it has a way that something
// taken off already would shut.
func (o *oracle) comesOff(step int, rest stepSet) bool {
	for s := range o.steps {
		if rest.has(s) && o.asksFor(s, step) {
			return false
		}
	}
	return !slices.ContainsFunc(o.entries[step], func(e oracleEntry) bool { return !o.getsIn(e, rest) })
}

// asksFor tells whether a step needs another before itself.
func (o *oracle) asksFor(step, other int) bool {
	return o.needs[step].has(other) || slices.ContainsFunc(o.together[step], func(p piecePair) bool { return o.tiesTogether(other, p[0], p[1]) })
}

// waits tells for each stuck step which others must come off before it.
func (o *oracle) waits(stuck stepSet) []stepSet {
	waits := make([]stepSet, o.steps)
	for s := range o.steps {
		for t := range o.steps {
			if stuck.has(s) && stuck.has(t) && (o.asksFor(t, s) || o.shutBy(s, t, stuck)) {
				waits[s] |= 1 << t
			}
		}
	}
	return waits
}

// shutBy tells whether the joins that shut in what comes with the step include
// the other.
func (o *oracle) shutBy(step, other int, stuck stepSet) bool {
	return slices.ContainsFunc(o.entries[step], func(e oracleEntry) bool {
		return !o.getsIn(e, stuck) && slices.ContainsFunc(e.doors, func(d oracleDoor) bool {
			return d.closer >= 0 && d.pass != passNever && (d.pass != passTurned || o.allowed.Turning) && o.tiesTogether(other, d.closer, e.seat)
		})
	})
}

// roots finds the stuck steps that wait for one another and for no others.
func (o *oracle) roots(stuck stepSet) (roots []stepSet) {
	reach := o.waits(stuck)
	for k := range reach {
		for s := range reach {
			if reach[s].has(k) {
				reach[s] |= reach[k]
			}
		}
	}
	for s := range reach {
		root := reach[s] | 1<<s
		first := bits.TrailingZeros16(uint16(root)) == s
		mutual := true
		for t := range reach {
			mutual = mutual && (!root.has(t) || reach[t]|1<<t == root)
		}
		if stuck.has(s) && first && mutual {
			roots = append(roots, root)
		}
	}
	return roots
}

// shutIn lists the pieces and wires of some steps that no way lets in while all
// that is stuck stands.
func (o *oracle) shutIn(steps, stuck stepSet) (ids []string) {
	for step, entries := range o.entries {
		for _, e := range entries {
			if steps.has(step) && !o.getsIn(e, stuck) {
				ids = append(ids, o.entryID(step, e))
			}
		}
	}
	return sortedOnce(ids)
}

func (o *oracle) entryID(step int, e oracleEntry) string {
	if e.piece < 0 {
		return o.wires[step-len(o.joins)].id
	}
	return o.pieceID(e.piece)
}

// loose tells whether some piece that belongs in the model is tied to the rest
// by no join. An option that no join names may be left out.
func (o *oracle) loose() bool {
	first := -1
	for p, part := range o.owner {
		if o.parts[part].class == "option" && o.isLoose(p) {
			continue
		}
		if first < 0 {
			first = p
		}
		if !o.inOneGroup(o.all(), first, p) {
			return true
		}
	}
	return false
}

func (o *oracle) stepName(step int) string {
	switch w := step - len(o.joins); {
	case w < 0:
		return "joins " + o.joinText(o.joins[step])
	case w < len(o.wires):
		return "wires " + o.wireText(o.wires[w])
	default:
		return "tasks " + taskText(o.tasks[w-len(o.wires)])
	}
}

func (o *oracle) setText(s stepSet) string {
	var names []string
	for step := range o.steps {
		if s.has(step) {
			names = append(names, "\n  "+o.stepName(step))
		}
	}
	return strings.Join(names, "")
}

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

// compareItself holds the two halves of the oracle against each other: there is
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
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		return fmt.Errorf("trapped, by finding: %v, want %v", got, want)
	}
	return nil
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
	if err := c.compareCount(q.Solution.System); err != nil {
		return err
	}
	spans := c.spans()
	// With little effort the latest places become bounds.
	for _, f := range []*precedence.Freedom{q.Freedom(), q.Solution.System.Freedom(0), q.Solution.System.Freedom(2)} {
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
		if got != want {
			return fmt.Errorf("%s: earliest and latest, before and after %v, want %v", c.stepName(step), got, want)
		}
	}
	return nil
}

func (c *comparison) compareCount(s *precedence.System) error {
	got, err := s.CountOrders(1 << c.steps)
	if err != nil {
		return err
	}
	orders, sets := c.countOrders()
	if got.Orders.Cmp(big.NewInt(orders)) != 0 || got.Sets != sets {
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
	number := kitstest.Rounds(t, 30000, 3000)
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

// compareDrafts compares so many kits on all processors, until one fails.
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
