package plan_test

import (
	"fmt"
	"math/bits"
	"slices"
	"strings"

	"dryfit/plan"
)

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
	return o.goesIn(step, done)
}

// goesIn tells whether what comes with a step gets to its place when those others are done,
// if need be after something was taken off, and is put back.
func (o *oracle) goesIn(step int, done stepSet) bool {
	return o.passes(step, done) || o.allowed.Reopen && o.reopens(step, done)
}

// passes tells the same as things are.
func (o *oracle) passes(step int, on stepSet) bool {
	return !slices.ContainsFunc(o.entries[step], func(e oracleEntry) bool { return !o.getsIn(e, on) }) && o.travels(step, on)
}

// getsIn tells whether one of the ways of the entry is open when those steps are done.
func (o *oracle) getsIn(e oracleEntry, done stepSet) bool {
	return slices.ContainsFunc(e.doors, func(d oracleDoor) bool {
		switch {
		case d.pass == passNever, d.pass == passTurned && !o.allowed.Turning:
			return false
		case d.closer < 0:
			return true
		}
		return !slices.ContainsFunc(e.seats, func(p int) bool { return o.inOneGroup(done, d.closer, p) })
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
	return o.goesIn(step, rest&^(1<<step))
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
		return !o.getsIn(e, stuck&^(1<<step)) && slices.ContainsFunc(e.doors, func(d oracleDoor) bool {
			return d.closer >= 0 && d.pass != passNever && (d.pass != passTurned || o.allowed.Turning) && o.tiesTogether(other, d.closer, e.seats[0]) && !o.tiesTogether(step, d.closer, e.seats[0])
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

// waitsForItself tells whether some of the steps are stuck even with every space open:
// they wait for one another.
func (o *oracle) waitsForItself(steps stepSet) bool {
	open := *o
	open.entries = make([][]oracleEntry, o.steps)
	return open.stuck()&steps != 0
}

// shutIn lists the pieces and wires of some steps that no way lets in while all
// that is stuck stands.
func (o *oracle) shutIn(steps, stuck stepSet) (ids []string) {
	for step, entries := range o.entries {
		for _, e := range entries {
			if steps.has(step) && !o.getsIn(e, stuck&^(1<<step)) {
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
