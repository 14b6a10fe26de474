package plan

import (
	"slices"
	"time"

	"dryfit/plan/precedence"
	"dryfit/plan/schedule"
)

// Sequence is the order that a person would choose, and what goes with it.
type Sequence struct {
	Solution *Solution
	Order    []int // the steps, first to last
	Place    []int // step -> its number, from 1
	Builds   []Build
	BuildOf  []int // step -> index in Builds
	Cost     Cost

	detours map[int]*Detour // step -> what is taken off for it
	calls   map[int][]Call
	paint   map[int][]int // step -> the pieces painted before it
	inside  map[int][]int // step -> the pieces painted inside before it, though it opens again
	b       *builds
	freedom *precedence.Freedom
	free    map[routesKey]routes
}

// maxRelearned bounds how often an order is sought again because of what was learned from
// the last one.
const maxRelearned = 40

// sequence orders the steps of a solvable kit.
func (s *Solution) sequence() *Sequence {
	r := s.Constraints
	b := r.findBuilds()
	rank := r.rank(b)
	q := &Sequence{Solution: s, b: b, BuildOf: b.of}
	var c *coster
	if len(r.Steps) <= maxImproved {
		c = r.newCoster(b, rank)
	}
	order, _ := s.Narrow.Order(rank)
	for again := 0; ; again++ {
		if q.Order = order; c != nil {
			q.Order = s.improve(c, order)
		}
		if !r.learn(reversed(q.Order), s.Relaxation) {
			break
		}
		s.System = r.System(r.all(s.Relaxation))
		s.narrow()
		var stuck []int
		if order, stuck = s.Narrow.Order(rank); again == maxRelearned || len(stuck) > 0 {
			q.Order, s.Narrow, s.Relaxed = r.exact, s.System, r.all(s.Relaxation)
			break
		}
	}
	if c != nil {
		q.Cost = c.cost(q.Order)
	}
	q.detours = s.detours(q.Order)
	q.Place = make([]int, len(q.Order))
	for i, v := range q.Order {
		q.Place[v] = i + 1
	}
	q.letter()
	q.paint = q.paintedFirst()
	q.lastCalls()
	q.inside = q.paintedInside()
	return q
}

// Draft is the proven sequence or, when there is none, the steps as the file
// suggests them; then nothing is proven and the places mean nothing.
func (rep *Project) Draft() *Sequence {
	if rep.Sequence != nil {
		return rep.Sequence
	}
	r := rep.Constraints
	b := r.findBuilds()
	q := &Sequence{Solution: rep.Solution, b: b, BuildOf: b.of, Order: make([]int, len(r.Steps)), Place: r.rank(b)}
	for v, at := range q.Place {
		q.Order[at] = v
		q.Place[v] = at + 1
	}
	q.letter()
	q.paint = q.paintedFirst()
	q.inside = q.paintedInside()
	return q
}

// StepsOf lists the steps that a finding is about: those it names, and those that fit or
// thread what it names.
func (rep *Project) StepsOf(f Finding) []int {
	var list []int
	for v := range rep.Constraints.Steps {
		if rep.Concerns(f, v) {
			list = append(list, v)
		}
	}
	return list
}

// Concerns reports whether a finding is about a step or the pieces it fits.
func (rep *Project) Concerns(f Finding, v int) bool {
	if slices.Contains(f.Steps, v) {
		return true
	}
	names := f.Pieces
	if len(names) == 0 {
		names = []string{f.Piece}
	}
	s := rep.Constraints.Steps[v]
	if s.Wire != nil {
		return slices.Contains(names, s.Wire.ID)
	}
	return slices.ContainsFunc(s.Fits(), func(p int) bool { return slices.Contains(names, rep.Constraints.PieceName(p)) })
}

// letter names the sub-builds in starting order.
func (q *Sequence) letter() {
	q.Builds = append([]Build(nil), q.b.list...)
	if len(q.Builds) > 0 {
		q.Builds[0].Letter = "main"
	}
	for i, u := range q.SubBuilds() {
		q.Builds[u].Letter = letters(i)
	}
}

func reversed(list []int) []int {
	out := make([]int, len(list))
	for i, v := range list {
		out[len(list)-1-i] = v
	}
	return out
}

// letters counts A, B ... Z, AA, AB ...
func letters(n int) string {
	if n < 26 {
		return string(rune('A' + n))
	}
	return letters(n/26-1) + letters(n%26)
}

// SubBuilds lists the builds that have steps of their own, in the order of their
// letters; the main build is not among them.
func (q *Sequence) SubBuilds() []int {
	var list []int
	seen := map[int]bool{}
	for _, v := range q.Order {
		for _, u := range reversed(q.b.chain(q.b.of[v])) {
			if u > 0 && !seen[u] {
				seen[u] = true
				list = append(list, u)
			}
		}
	}
	return list
}

// Freedom is the range of places of each step over all valid orders under the
// relaxation of the solution. It is computed once. Where something may be taken off, the
// clauses do not say all that it takes, and the ranges are bounds.
func (q *Sequence) Freedom() *precedence.Freedom {
	if q.freedom == nil {
		q.freedom = q.Solution.System.Freedom(60)
		if s := q.Solution; s.Relaxation.Reopen && s.Constraints.anyDoubtful(s.Relaxation) {
			q.freedom.Loosen()
		}
	}
	return q.freedom
}

// Clock is the time a kit takes.
type Clock struct {
	HandsOn time.Duration // all hands-on times together
	OnePair time.Duration // one pair of hands in this order, waits included
	Least   time.Duration // the longest chain of steps and waits, with any number of hands
}

// Clock computes how long the build takes in this order.
func (q *Sequence) Clock() Clock {
	list, _, order := q.activities()
	var c Clock
	for _, a := range list {
		c.HandsOn += a.Takes
	}
	c.OnePair, _ = schedule.OneByOne(list, order)
	p, err := schedule.Critical(list)
	if err != nil {
		panic(err) // a kit with an order has no cycle of needs
	}
	c.Least = p.Length
	return c
}
