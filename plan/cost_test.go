package plan

import (
	"fmt"
	"math"
	"math/rand"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
)

// On small random kits the cost of the order is compared with the true optimum over
// all valid orders. The order must never be cheaper than the optimum, which would
// mean that it is not valid or wrongly costed. The gap is logged, and what it would be
// if all steps took part in the search.
func TestCostAgainstOptimum(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	kitsTried, optimal := 0, 0
	var sum, best, searched float64
	want := kitstest.Rounds(t, 400, 60)
	for kitsTried < want {
		s := smallKit(t, rng).Solve()
		if len(s.Stuck) > 0 {
			continue
		}
		kitsTried++
		q := s.sequence()
		b := s.Constraints.findBuilds()
		c := s.Constraints.newCoster(b, s.Constraints.rank(b))
		optimum := s.cheapest(c)
		got := q.Cost.Total()
		if got < optimum-1e-9 {
			t.Fatalf("cost %g is below the optimum %g", got, optimum)
		}
		if got < optimum+1e-9 {
			optimal++
		}
		sum, best, searched = sum+got, best+optimum, searched+s.searched(c)
	}
	t.Logf("%d kits: %d optimal; mean cost %.2f, optimum %.2f, gap %.1f %%; %.1f %% if all steps took part",
		kitsTried, optimal, sum/float64(kitsTried), best/float64(kitsTried), 100*(sum-best)/best, 100*(searched-best)/best)
}

// searched is the cost when all steps take part in the search.
func (s *Solution) searched(c *coster) float64 {
	m := s.improver(c)
	order, _ := s.Narrow.Order(c.rank)
	for _, v := range order {
		m.at[v] = len(m.seq)
		m.seq = append(m.seq, v)
	}
	m.run()
	return c.cost(m.seq).Total()
}

// The cost that the search adds up on the way is the cost computed from scratch.
func TestImproverAddsUp(t *testing.T) {
	rng := rand.New(rand.NewSource(8))
	for range 300 {
		s := smallKit(t, rng).Solve()
		if len(s.Stuck) > 0 {
			continue
		}
		b := s.Constraints.findBuilds()
		rank := s.Constraints.rank(b)
		order, _ := s.Narrow.Order(rank)
		c := s.Constraints.newCoster(b, rank)
		m := s.improver(c)
		for _, v := range order {
			m.at[v] = len(m.seq)
			m.seq = append(m.seq, v)
		}
		before := c.cost(m.seq).Total()
		for _, v := range order {
			moved := m.move(v)
			after := c.cost(m.seq).Total()
			if moved && after >= before || !moved && math.Abs(after-before) > 1e-9 {
				t.Fatalf("moved %v, cost before %g, after %g", moved, before, after)
			}
			before = after
		}
	}
}

// smallKit makes a kit of at most ten steps: a hull in two halves, things in it, a
// bench unit, outside detail, sometimes a coat.
func smallKit(t *testing.T, rng *rand.Rand) *Constraints {
	t.Helper()
	var parts, joins []string
	part := func(id string, more ...string) {
		parts = append(parts, fmt.Sprintf("  %s: {printed: resin%s}", id, strings.Join(more, "")))
	}
	pick := func(list ...string) string { return list[rng.Intn(len(list))] }
	part("left")
	part("right")
	places := []string{"left", "right"}
	var held []string
	n := 5 + rng.Intn(4)
	for i := range n {
		id := fmt.Sprintf("p%d", i)
		part(id, pick("", ", fragile: true", ", paint: off-model", ", paint: outside"))
		on := places[rng.Intn(len(places))]
		joins = append(joins, fmt.Sprintf("  - {fit: %s, to: %s, with: %s, toward: [0, 0, %s]%s}", id, on,
			pick("ca", "epoxy-fast", "magnet"), pick("1", "-1"), pick("", ", bench: true")))
		places = append(places, id)
		if rng.Intn(3) == 0 {
			held = append(held, id)
		}
	}
	joins = append(joins, "  - {close: [left, right], with: epoxy, step: closing}")
	rng.Shuffle(len(joins), func(i, j int) { joins[i], joins[j] = joins[j], joins[i] })
	text := "kit: small\nparts:\n" + strings.Join(parts, "\n") + "\njoins:\n" + strings.Join(joins, "\n") +
		"\nspaces:\n  inside: {closed-by: [left, right], holds: [" + strings.Join(held, ", ") + "]}\n"
	if rng.Intn(2) == 0 {
		text += "tasks:\n  - {do: Paint, coat: outside}\n"
	}
	return Derive(kitstest.Read(t, text))
}

// cheapest is the least cost of any valid order: pairs and neighbours add up, so
// the best order of a set of steps that ends in a given step is found from smaller
// sets.
func (s *Solution) cheapest(c *coster) float64 {
	n := len(s.Constraints.Steps)
	type end struct{ set, last int }
	cost := map[end]float64{{0, -1}: 0}
	for set := range 1 << n {
		for last := -1; last < n; last++ {
			so, known := cost[end{set, last}]
			if !known {
				continue
			}
			for v := range n {
				if set>>v&1 == 1 || !s.mayFollow(set, v) {
					continue
				}
				next := so + c.neighbourCost(last, v)
				for w := range n {
					if set>>w&1 == 1 {
						next += c.pairCost(w, v)
					}
				}
				e := end{set | 1<<v, v}
				if old, known := cost[e]; !known || next < old {
					cost[e] = next
				}
			}
		}
	}
	best := math.Inf(1)
	for last := range n {
		if v, known := cost[end{1<<n - 1, last}]; known {
			best = min(best, v)
		}
	}
	// cost takes off what every order has: each sub-build is entered once, and
	// adds the pairs that could be side by side.
	var count [terms]int
	for u := range c.b.list {
		if c.b.started(u) {
			count[split]--
		}
	}
	count[parted] = c.likes
	return best + weigh(&count)
}

// mayFollow reports whether v may be done when the steps of set are done.
func (s *Solution) mayFollow(set, v int) bool {
	for _, n := range s.Constraints.Needs {
		if n.After == v && set>>n.Before&1 == 0 {
			return false
		}
	}
	may := true
	for _, i := range s.Constraints.AccessOf(v) {
		s.Constraints.EachClause(i, s.Relaxed[i], func(oneOf []int, _ int) {
			later := false
			for _, w := range oneOf {
				later = later || set>>w&1 == 0
			}
			may = may && later
		})
	}
	return may
}
