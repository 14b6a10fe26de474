// Package disjoint keeps numbers in groups that are joined over time.
package disjoint

import "slices"

// Sets are groups of the numbers below n (B. A. Galler and M. J. Fischer, "An improved
// equivalence algorithm", 1964). The lowest number of a group leads it.
type Sets struct {
	lead   []int32
	Joined int // how many fewer groups there are than at first
}

// New puts each number below n into its own group.
func New(n int) *Sets {
	s := &Sets{lead: make([]int32, n)}
	for i := range s.lead {
		s.lead[i] = int32(i)
	}
	return s
}

// Clone is a copy that is joined apart from the sets.
func (s *Sets) Clone() *Sets { return &Sets{slices.Clone(s.lead), s.Joined} }

// Find is the leader of a number's group.
func (s *Sets) Find(i int) int {
	for int(s.lead[i]) != i {
		s.lead[i] = s.lead[s.lead[i]]
		i = int(s.lead[i])
	}
	return i
}

// Join joins the groups of two numbers, and reports whether they were apart.
func (s *Sets) Join(a, b int) bool {
	a, b = s.Find(a), s.Find(b)
	if a == b {
		return false
	}
	s.lead[max(a, b)] = int32(min(a, b))
	s.Joined++
	return true
}

// Number gives the groups numbers from 0, in the order of their leaders, and counts them.
// The sets must not be used afterwards.
func (s *Sets) Number() (of []int32, n int) {
	for i, l := range s.lead { // leaders come before those they lead
		if int(l) == i {
			s.lead[i] = int32(n)
			n++
		} else {
			s.lead[i] = s.lead[l]
		}
	}
	return s.lead, n
}
