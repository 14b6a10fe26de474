package plan

import (
	"time"

	"dryfit/plan/schedule"
)

// Term is one part of the cost of an order: how often something undesirable
// happens, and how much it counts.
type Term struct {
	Name   string  `json:"name"`   // of the term
	Means  string  `json:"means"`  // what is counted
	Count  int     `json:"count"`  // how often
	Weight float64 `json:"weight"` // what each time costs
}

// Cost is what an order asks of the builder beyond what is unavoidable.
type Cost []Term

// Total is the sum of count times weight.
func (c Cost) Total() float64 {
	sum := 0.0
	for _, t := range c {
		sum += float64(t.Count) * t.Weight
	}
	return sum
}

// The terms, most important first. The weights were set so that the orders of the
// demonstration kit and small kits read well; they were not measured on people.
const (
	split = iota
	unbenched
	reachedIn
	turned
	waited
	parted
	changed
	early
	moved
	terms
)

var termTable = [terms]Term{
	split:     {"split", "a sub-build is left before it is finished", 0, 8},
	unbenched: {"unbenched", "a step of a sub-build is done after the sub-build was joined", 0, 4},
	reachedIn: {"reached-in", "an inside piece goes in after a join that shuts one of its ways in", 0, 2},
	turned:    {"turned", "the model is turned over between two steps", 0, 3},
	waited:    {"waited", "a step waits ten minutes or more for the step just before it", 0, 1},
	parted:    {"parted", "mirrored pieces, or copies of a part, are not fitted one after the other", 0, 1},
	changed:   {"changed", "the fixing changes between two steps of a build", 0, 0.5},
	early:     {"early", "a step follows one better left to the end: fragile outside detail, or what service takes out", 0, 0.1},
	moved:     {"moved", "two steps are swapped compared with the file, taking its builds whole", 0, 0.03},
}

// longWait is the shortest wait between two steps that counts (ours).
const longWait = 10 * time.Minute

// coster computes the cost of orders. All terms are sums over neighbours and
// pairs, so that the effect of moving a step can be updated incrementally.
type coster struct {
	r     *Constraints
	b     *builds
	rank  []int
	late  []bool
	under []int8 // step -> +1 fitted from above, -1 from below, 0 neither
	fix   []int32
	like  []int32 // step -> copies and mirror images share a number, 0 for none
	joins []int32 // step -> build it joins, 0 for none
	wait  bits    // pairs (before, after) with a long wait
	shut  bits    // pairs (join, step) where the join shuts a way in of the step
	likes int     // pairs that could be side by side
}

func (r *Constraints) newCoster(b *builds, rank []int) *coster {
	n := len(r.Steps)
	c := &coster{r: r, b: b, rank: rank, late: r.lateSteps(), under: make([]int8, n), fix: make([]int32, n),
		like: make([]int32, n), joins: make([]int32, n), wait: newBits(n), shut: newBits(n)}
	fixings := map[string]int32{}
	for v, s := range r.Steps {
		if id := s.WithID(); id != "" {
			if fixings[id] == 0 {
				fixings[id] = int32(len(fixings) + 1)
			}
			c.fix[v] = fixings[id]
		}
		if s.Kind == Fit {
			c.under[v] = 1
			if t := s.Join.Toward; t != nil && t[2] > 0 && t[2] >= abs(t[0]) && t[2] >= abs(t[1]) {
				c.under[v] = -1
			}
		}
	}
	for u := range b.list {
		if b.list[u].Join >= 0 && b.subBuild(u) {
			c.joins[b.list[u].Join] = int32(u)
		}
	}
	for _, nd := range r.Needs {
		if r.lag(nd.Before, nd.After) >= longWait {
			c.wait.set(nd.Before, nd.After)
		}
	}
	for i := range r.Access {
		if r.Access[i].Space == nil || r.Access[i].Learned {
			continue
		}
		for _, t := range r.Access[i].Routes {
			// Where several joins together shut a way in, the last in the first
			// order decides.
			last := -1
			for _, b := range t.Blockers {
				for _, v := range b.Joins {
					if last < 0 || rank[v] > rank[last] {
						last = int(v)
					}
				}
			}
			if last >= 0 {
				c.shut.set(last, r.Access[i].Step)
			}
		}
	}
	c.likeness()
	return c
}

// likeness numbers the steps that fit copies of a part or its mirror image.
func (c *coster) likeness() {
	of := map[string]int32{}
	size := map[int32]int{}
	for v, s := range c.r.Steps {
		if s.Kind != Fit {
			continue
		}
		p := c.r.Kit.Pieces[s.Fits()[0]].Part
		name := p.ID
		if p.Pair != nil && p.Pair.ID < name {
			name = p.Pair.ID
		}
		if of[name] == 0 {
			of[name] = int32(len(of) + 1)
		}
		c.like[v] = of[name]
		size[c.like[v]]++
	}
	for v := range c.like {
		if size[c.like[v]] < 2 {
			c.like[v] = 0
		}
	}
	for _, n := range size {
		c.likes += n - 1
	}
}

// neighbours counts the terms that come from y following x; x is -1 at the start.
func (c *coster) neighbours(x, y int, count *[terms]int) {
	from := 0
	if x >= 0 {
		from = c.b.of[x]
	}
	// Entering a sub-build for the first time is not a split.
	for u := c.b.of[y]; u > 0 && !c.b.within(from, u); u = c.b.list[u].Parent {
		count[split]++
	}
	if x < 0 {
		return
	}
	if c.like[x] != 0 && c.like[x] == c.like[y] {
		count[parted]--
	}
	if c.wait.has(x, y) {
		count[waited]++
	}
	if c.b.of[x] == c.b.of[y] {
		if c.under[x]*c.under[y] < 0 {
			count[turned]++
		}
		if c.fix[x] != 0 && c.fix[y] != 0 && c.fix[x] != c.fix[y] {
			count[changed]++
		}
	}
}

// pair counts the terms that come from x being anywhere before y.
func (c *coster) pair(x, y int, count *[terms]int) {
	if u := c.joins[x]; u != 0 && c.b.within(c.b.of[y], int(u)) {
		count[unbenched]++
	}
	if c.shut.has(x, y) {
		count[reachedIn]++
	}
	if c.late[x] && !c.late[y] {
		count[early]++
	}
	if c.rank[x] > c.rank[y] {
		count[moved]++
	}
}

func weigh(count *[terms]int) float64 {
	sum := 0.0
	for t, n := range count {
		if n != 0 {
			sum += float64(n) * termTable[t].Weight
		}
	}
	return sum
}

func (c *coster) neighbourCost(x, y int) float64 {
	if y < 0 {
		return 0
	}
	var count [terms]int
	c.neighbours(x, y, &count)
	return weigh(&count)
}

func (c *coster) pairCost(x, y int) float64 {
	var count [terms]int
	c.pair(x, y, &count)
	return weigh(&count)
}

// cost adds up all terms of an order.
func (c *coster) cost(order []int) Cost {
	var count [terms]int
	last := -1
	for i, v := range order {
		c.neighbours(last, v, &count)
		last = v
		for _, w := range order[i+1:] {
			c.pair(v, w, &count)
		}
	}
	entered := 0
	for u := range c.b.list {
		if c.b.started(u) {
			entered++
		}
	}
	count[split] -= entered
	count[parted] += c.likes
	cost := make(Cost, terms)
	for t := range cost {
		cost[t] = termTable[t]
		cost[t].Count = count[t]
	}
	return cost
}

// lag is the time between the end of one step and the start of another that needs
// it: the handling time of the fixing or, before a closing or a task, its full
// cure.
func (r *Constraints) lag(before, after int) time.Duration {
	if k := r.Steps[after].Kind; k == Close || k == Task {
		return r.Steps[before].Cure()
	}
	return r.Steps[before].Handle()
}

// Activities are the steps as the critical path method sees them.
func (r *Constraints) Activities() []schedule.Activity {
	list := make([]schedule.Activity, len(r.Steps))
	for v, s := range r.Steps {
		list[v].Takes = s.Takes()
	}
	for _, n := range r.Needs {
		list[n.After].After = append(list[n.After].After, schedule.Wait{On: n.Before, For: r.lag(n.Before, n.After)})
	}
	return list
}

func abs(v float64) float64 {
	if v < 0 {
		return -v
	}
	return v
}

// bits is a square bit matrix.
type bits struct {
	n     int
	words []uint64
}

func newBits(n int) bits         { return bits{n, make([]uint64, (n*n+63)/64)} }
func (b bits) set(i, j int)      { k := i*b.n + j; b.words[k/64] |= 1 << (k % 64) }
func (b bits) has(i, j int) bool { k := i*b.n + j; return b.words[k/64]>>(k%64)&1 == 1 }
