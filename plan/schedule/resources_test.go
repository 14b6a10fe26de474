package schedule_test

import (
	"testing"
	"time"

	"dryfit/plan/schedule"
)

// job is a row of a printed instance: its number, how long it takes, what it needs of
// each resource, and the jobs that wait for it.
type job struct {
	number, takes int
	needs, next   []int
}

type instance struct {
	name     string
	critical int // length without limits; 0 if not published
	optimum  int
	capacity []int
	jobs     []job
}

// The first is j301_1 of R. Kolisch and A. Sprecher, "PSPLIB - a project scheduling
// problem library", European Journal of Operational Research 96 (1997) 205-216, with
// the length of its longest path as printed in the file and the optimum of the list
// that goes with the files. The others are from the set of J. H. Patterson, "A
// comparison of exact approaches for solving the multiple constrained resource
// project scheduling problem", Management Science 30 (1984) 854-867: numbers 2, 4, 1
// and 8 of the files, with the optima of the list that goes with them.
var published = []instance{
	{"j301_1", 38, 43, []int{12, 13, 4, 12}, []job{
		{1, 0, []int{0, 0, 0, 0}, []int{2, 3, 4}},
		{2, 8, []int{4, 0, 0, 0}, []int{6, 11, 15}},
		{3, 4, []int{10, 0, 0, 0}, []int{7, 8, 13}},
		{4, 6, []int{0, 0, 0, 3}, []int{5, 9, 10}},
		{5, 3, []int{3, 0, 0, 0}, []int{20}},
		{6, 8, []int{0, 0, 0, 8}, []int{30}},
		{7, 5, []int{4, 0, 0, 0}, []int{27}},
		{8, 9, []int{0, 1, 0, 0}, []int{12, 19, 27}},
		{9, 2, []int{6, 0, 0, 0}, []int{14}},
		{10, 7, []int{0, 0, 0, 1}, []int{16, 25}},
		{11, 9, []int{0, 5, 0, 0}, []int{20, 26}},
		{12, 2, []int{0, 7, 0, 0}, []int{14}},
		{13, 6, []int{4, 0, 0, 0}, []int{17, 18}},
		{14, 3, []int{0, 8, 0, 0}, []int{17}},
		{15, 9, []int{3, 0, 0, 0}, []int{25}},
		{16, 10, []int{0, 0, 0, 5}, []int{21, 22}},
		{17, 6, []int{0, 0, 0, 8}, []int{22}},
		{18, 5, []int{0, 0, 0, 7}, []int{20, 22}},
		{19, 3, []int{0, 1, 0, 0}, []int{24, 29}},
		{20, 7, []int{0, 10, 0, 0}, []int{23, 25}},
		{21, 2, []int{0, 0, 0, 6}, []int{28}},
		{22, 7, []int{2, 0, 0, 0}, []int{23}},
		{23, 2, []int{3, 0, 0, 0}, []int{24}},
		{24, 3, []int{0, 9, 0, 0}, []int{30}},
		{25, 3, []int{4, 0, 0, 0}, []int{30}},
		{26, 7, []int{0, 0, 4, 0}, []int{31}},
		{27, 8, []int{0, 0, 0, 7}, []int{28}},
		{28, 3, []int{0, 8, 0, 0}, []int{31}},
		{29, 7, []int{0, 7, 0, 0}, []int{32}},
		{30, 2, []int{0, 7, 0, 0}, []int{32}},
		{31, 2, []int{0, 0, 2, 0}, []int{32}},
		{32, 0, []int{0, 0, 0, 0}, nil},
	}},
	{"patterson 2", 0, 7, []int{5, 5, 3}, []job{
		{1, 0, []int{0, 0, 0}, []int{2, 3}}, {2, 1, []int{2, 2, 1}, []int{4, 5}}, {3, 2, []int{0, 2, 1}, []int{6}},
		{4, 2, []int{3, 3, 3}, []int{7}}, {5, 3, []int{2, 1, 3}, []int{6}}, {6, 2, []int{1, 1, 0}, []int{7}},
		{7, 0, []int{0, 0, 0}, nil},
	}},
	{"patterson 4", 0, 6, []int{15, 20, 20}, []job{
		{1, 0, []int{0, 0, 0}, []int{2, 3, 4}}, {2, 1, []int{3, 5, 2}, []int{5, 6}}, {3, 1, []int{5, 4, 3}, []int{5, 6, 7}},
		{4, 1, []int{5, 2, 2}, []int{5, 8}}, {5, 1, []int{4, 1, 4}, []int{9, 10}}, {6, 1, []int{5, 5, 4}, []int{10, 12}},
		{7, 1, []int{3, 5, 2}, []int{11, 12}}, {8, 1, []int{2, 4, 4}, []int{10, 12}}, {9, 1, []int{3, 2, 2}, []int{13, 14}},
		{10, 1, []int{3, 2, 4}, []int{13}}, {11, 1, []int{3, 3, 2}, []int{13}}, {12, 1, []int{4, 1, 4}, []int{13, 15, 16}},
		{13, 1, []int{1, 4, 4}, []int{17, 18}}, {14, 1, []int{2, 2, 2}, []int{18}}, {15, 1, []int{5, 5, 4}, []int{18}},
		{16, 1, []int{1, 5, 4}, []int{19}}, {17, 1, []int{4, 5, 4}, []int{21}}, {18, 1, []int{3, 2, 3}, []int{20}},
		{19, 1, []int{5, 3, 3}, []int{21}}, {20, 1, []int{2, 4, 6}, []int{22}}, {21, 1, []int{1, 6, 2}, []int{22}},
		{22, 0, []int{0, 0, 0}, nil},
	}},
	{"patterson 1", 0, 19, []int{2, 1, 2}, []job{
		{1, 0, []int{0, 0, 0}, []int{2, 3, 4}}, {2, 6, []int{1, 0, 0}, []int{9, 10}}, {3, 4, []int{0, 0, 0}, []int{5, 6, 7}},
		{4, 3, []int{0, 0, 0}, []int{8, 11}}, {5, 1, []int{0, 0, 0}, []int{10}}, {6, 6, []int{1, 0, 1}, []int{12}},
		{7, 2, []int{1, 0, 0}, []int{8, 11}}, {8, 1, []int{0, 0, 0}, []int{13}}, {9, 4, []int{0, 1, 1}, []int{14}},
		{10, 3, []int{0, 0, 1}, []int{12}}, {11, 2, []int{0, 0, 1}, []int{12}}, {12, 3, []int{0, 1, 0}, []int{13}},
		{13, 5, []int{0, 0, 0}, []int{14}}, {14, 0, []int{0, 0, 0}, nil},
	}},
	{"patterson 8", 0, 11, []int{4}, []job{
		{1, 0, []int{0}, []int{2, 3, 8}}, {2, 3, []int{2}, []int{5}}, {3, 3, []int{3}, []int{4, 6}}, {4, 1, []int{2}, []int{5}},
		{5, 2, []int{3}, []int{9}}, {6, 2, []int{4}, []int{7}}, {7, 3, []int{2}, []int{9}}, {8, 3, []int{1}, []int{9}},
		{9, 0, []int{0}, nil},
	}},
}

// project takes the units of an instance for hours.
func (in *instance) project() *schedule.Project {
	p := &schedule.Project{Activities: make([]schedule.Activity, len(in.jobs)), Capacity: in.capacity}
	for v, j := range in.jobs {
		p.Activities[v].Takes = time.Duration(j.takes) * time.Hour
		for r, amount := range j.needs {
			p.Activities[v].Uses = append(p.Activities[v].Uses, schedule.Use{Resource: r, Amount: amount})
		}
		for _, next := range j.next {
			a := &p.Activities[next-1]
			a.After = append(a.After, schedule.Wait{On: v})
		}
	}
	return p
}

func upTo(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

func TestPublishedResources(t *testing.T) {
	for _, in := range published {
		t.Run(in.name, func(t *testing.T) {
			p := in.project()
			if in.critical > 0 {
				if c := critical(t, p.Activities); c.Length != time.Duration(in.critical)*time.Hour {
					t.Errorf("without limits %v, published %d", c.Length, in.critical)
				}
			}
			s, err := p.Schedule(upTo(len(in.jobs)), 100_000)
			if err != nil {
				t.Fatal(err)
			}
			valid(t, p, s)
			if s.Length != time.Duration(in.optimum)*time.Hour || !s.Least() {
				t.Errorf("with limits %v, bound %v; published %d", s.Length, s.Bound, in.optimum)
			}
		})
	}
}

// valid checks a schedule against the project.
func valid(t *testing.T, p *schedule.Project, s *schedule.Schedule) {
	t.Helper()
	length := time.Duration(0)
	for v, a := range p.Activities {
		length = max(length, s.End[v])
		for _, w := range a.After {
			if s.Start[v] < s.End[w.On]+w.For {
				t.Errorf("%d starts at %v, %d ends at %v, to wait %v", v, s.Start[v], w.On, s.End[w.On], w.For)
			}
		}
		// What is used is greatest at some start.
		for r, capacity := range p.Capacity {
			used := 0
			for w, b := range p.Activities {
				for _, u := range b.Uses {
					if u.Resource == r && s.Start[w] <= s.Start[v] && s.Start[v] < s.End[w] {
						used += u.Amount
					}
				}
			}
			if used > capacity {
				t.Errorf("at %v %d of resource %d are used, there are %d", s.Start[v], used, r, capacity)
			}
		}
	}
	if s.Length != length || s.Bound > length {
		t.Errorf("length %v, bound %v, the last ends at %v", s.Length, s.Bound, length)
	}
}
