package plan

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"dryfit/plan/schedule"
)

// Schedule says when each step of a proven order starts, for a number of pairs of
// hands.
//
// One pair of hands does one step at a time, and with several only one works on a
// sub-build at a time, since its pieces lie on one bench; joining it also
// occupies what it is joined to. Handling and cure times occupy no one.
//
// Among schedules within half a percent of the shortest one found, the one
// closest to the order is chosen.
//
// The steps need not start in the order of the sequence, and may overlap, but
// each is proven: it starts when all that it needs is done, and where one of
// several joins must come after it, the last of them in the order waits for it.
// What the order does on the bench stays there: it is done, and can be handled,
// before its sub-build is joined.
type Schedule struct {
	Sequence *Sequence
	*schedule.Schedule
	Order   []int // the activities by their start: the steps, and the painting of pieces by themselves
	Hands   int
	Day     time.Duration // working time of each day; 0 is round the clock
	HandsOn time.Duration // all hands-on times together
	Waiting time.Duration // working time in which no one has anything to do
	Cured   time.Duration // when the last glue or paint has its full strength
	// Floor is a lower bound: no valid order of the kit ends sooner with this
	// many hands, even if several work on one sub-build.
	Floor    time.Duration
	Untimed  int // steps without a hands-on time, which count as none
	Painted  int // pieces painted by themselves; without a time if the kit gives none
	Chain    []schedule.Link
	Idle     []schedule.Span
	Critical []bool          // step -> in the chain
	Sets     []time.Duration // step -> the longest time that another waits after its end
	Who      []int           // step -> which pair of hands does it, from 1

	project *schedule.Project
	painted []Painting // the activities after those of the steps
}

// WorkingDay is how long work goes on each day unless another length is asked for.
const WorkingDay = 8 * time.Hour

// MaxHands bounds the pairs of hands that are planned for.
const MaxHands = 100

// maxNodes bounds the exact search for a shorter schedule of a kit of few steps.
const maxNodes = 20_000

// tolerance is how much longer, as a fraction, a schedule may be than the
// shortest one found in order to stay closer to the order. It was chosen by
// judgement.
const tolerance = 0.005

// Schedule plans the work of a sequence for a number of pairs of hands and a
// number of hours a day; 0 is round the clock.
func (q *Sequence) Schedule(hands int, day time.Duration) (*Schedule, error) {
	if hands < 1 || hands > MaxHands {
		return nil, fmt.Errorf("%d pairs of hands: use 1 to %d", hands, MaxHands)
	}
	s := &Schedule{Sequence: q, Hands: hands, Day: day}
	order := s.plan(schedule.Day(day))
	var err error
	if s.Schedule, err = s.project.Schedule(order, maxNodes); err != nil {
		if errors.Is(err, schedule.ErrTooLong) {
			err = fmt.Errorf("%w; check the times in the kit file and the hours of a day", err)
		}
		return nil, err
	}
	s.Order = s.byStart()
	s.Chain, s.Idle = s.project.Chain(s.Schedule), s.project.Idle(s.Schedule)
	s.Critical = make([]bool, len(s.Start))
	for _, l := range s.Chain {
		s.Critical[l.Activity] = true
	}
	for _, i := range s.Idle {
		s.Waiting += schedule.Day(day).Working(i.From, i.To)
	}
	for v, a := range s.project.Activities {
		s.HandsOn += a.Takes
		p := s.Painting(v)
		if p != nil {
			s.Cured = max(s.Cured, s.End[v]+p.Sets)
			continue
		}
		if a.Takes == 0 {
			s.Untimed++
		}
		s.Cured = max(s.Cured, s.End[v]+q.Solution.Constraints.Steps[v].Cure())
	}
	for _, p := range q.paintings() {
		s.Painted += len(p.Pieces)
	}
	s.sets()
	s.people()
	return s, s.floor(schedule.Day(day))
}

func (s *Schedule) sets() {
	s.Sets = make([]time.Duration, len(s.Start))
	for _, a := range s.project.Activities {
		for _, w := range a.After {
			s.Sets[w.On] = max(s.Sets[w.On], w.For)
		}
	}
}

// people assigns each step to the first free pair of hands.
func (s *Schedule) people() {
	s.Who = make([]int, len(s.Start))
	until := make([]time.Duration, s.Hands)
	for _, v := range s.Order {
		for i := range until {
			if until[i] <= s.Start[v] {
				s.Who[v], until[i] = i+1, s.End[v]
				break
			}
		}
	}
}

// Takes is the hands-on time of a step.
func (s *Schedule) Takes(step int) time.Duration { return s.project.Activities[step].Takes }

// Clock is the day, from 1, and the time since it began. What ends just as a day
// begins ends at 24:00 of the day before.
func (s *Schedule) Clock(t time.Duration, end bool) (day int, at time.Duration) {
	const full = 24 * time.Hour
	day, at = int(t/full), t%full
	if end && at == 0 && day > 0 {
		day, at = day-1, full
	}
	return day + 1, at
}

// Cause says why a step does not start earlier.
func (s *Schedule) Cause(step int) schedule.Link { return s.project.Cause(s.Schedule, step) }

// Next is the first activity that starts where an idle stretch ends.
func (s *Schedule) Next(idle schedule.Span) int {
	i := slices.IndexFunc(s.Order, func(v int) bool { return s.Start[v] >= idle.To })
	return s.Order[i]
}

// Between lists the activities that are worked on between two times, by start.
func (s *Schedule) Between(from, to time.Duration) []int {
	var list []int
	for _, v := range s.Order {
		if s.Start[v] < to && s.End[v] > from {
			list = append(list, v)
		}
	}
	return list
}

// byStart lists the activities by their start, the steps in a valid order: what is
// removed last starts last.
func (s *Schedule) byStart() []int {
	q, n := s.Sequence, len(s.Sequence.Order)
	rank := make([]int, n)
	for i, v := range schedule.ByTime(s.Start[:n], q.Place) {
		rank[v] = i
	}
	steps, _ := q.Solution.Narrow.Order(rank)
	painting := schedule.ByTime(s.Start[n:], nil)
	var list []int
	for _, v := range steps {
		for len(painting) > 0 && s.Start[n+painting[0]] <= s.Start[v] {
			list = append(list, n+painting[0])
			painting = painting[1:]
		}
		list = append(list, v)
	}
	return list
}

// floor computes the bound for all valid orders, from the needs alone.
func (s *Schedule) floor(day schedule.Day) error {
	p := &schedule.Project{Activities: s.Sequence.Solution.Constraints.Activities(), Capacity: []int{s.Hands}, Day: day}
	for _, painting := range s.painted { // before which step depends on the order
		p.Activities = append(p.Activities, schedule.Activity{Takes: painting.Takes})
	}
	for v := range p.Activities {
		p.Activities[v].Uses = []schedule.Use{{Resource: 0, Amount: 1}}
	}
	var err error
	s.Floor, err = p.Bound(s.Length)
	return err
}

// plan sets up the activities with what they wait for and what they use. It returns
// them in the order of the sequence.
func (s *Schedule) plan(day schedule.Day) (order []int) {
	q := s.Sequence
	p := &schedule.Project{Capacity: []int{s.Hands}, Day: day, Tolerance: tolerance}
	p.Activities, s.painted, order = q.activities()
	for v := range p.Activities {
		p.Activities[v].Uses = []schedule.Use{{Resource: 0, Amount: 1}}
	}
	if s.Hands > 1 {
		q.places(p)
	}
	s.project = p
	return order
}

// on lists the builds that a step is done on: its own and those it has been joined to by
// then.
func (q *Sequence) on(step int) []int {
	chain := q.b.chain(q.BuildOf[step])
	for i, u := range chain {
		if join := q.Builds[u].Join; join < 0 || q.Place[step] <= q.Place[join] {
			return chain[:i+1]
		}
	}
	return chain
}

// places makes each build a place at which one person works.
func (q *Sequence) places(p *schedule.Project) {
	for range q.Builds {
		p.Capacity = append(p.Capacity, 1)
	}
	joined := make(map[int]int, len(q.Builds)) // step -> the build it joins
	for u, b := range q.Builds {
		if b.Join >= 0 {
			joined[b.Join] = u
		}
	}
	for v := range q.Order {
		at := q.on(v)
		if u, joins := joined[v]; joins && !slices.Contains(at, u) {
			at = append(slices.Clone(at), u)
		}
		for _, u := range at {
			p.Activities[v].Uses = append(p.Activities[v].Uses, schedule.Use{Resource: 1 + u, Amount: 1})
		}
	}
}
