package precedence_test

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"

	"dryfit/plan/precedence"
)

// roots finds the roots from their meaning: v is in a root if all that v waits
// for, directly or not, waits for v in turn.
func (j job) roots() []precedence.Root {
	stuck := j.largestTrap(1<<j.n - 1)
	reach := j.reach(stuck)
	var roots []precedence.Root
	done := 0
	for _, v := range toList(stuck) {
		if done>>v&1 == 1 || !mutual(reach, v) {
			continue
		}
		root := precedence.Root{Steps: toList(reach[v] | 1<<v)}
		for _, w := range root.Steps {
			if j.unmet(w, stuck) {
				root.Trapped = append(root.Trapped, w)
			}
		}
		roots = append(roots, root)
		done |= toSet(root.Steps)
	}
	return roots
}

func mutual(reach []int, v int) bool {
	for _, w := range toList(reach[v]) {
		if reach[w]>>v&1 == 0 {
			return false
		}
	}
	return true
}

// reach is, for each step, the set of the stuck steps it waits for, directly or not.
func (j job) reach(stuck int) []int {
	reach := make([]int, j.n)
	for _, r := range j.list {
		if r.isNeed {
			reach[r.step] |= 1 << r.after & stuck
		} else if set := toSet(r.oneOf); set&^stuck == 0 {
			reach[r.step] |= set
		}
	}
	for range j.n {
		for v := range reach {
			for _, w := range toList(reach[v]) {
				reach[v] |= reach[w]
			}
		}
	}
	return reach
}

func (j job) unmet(v, stuck int) bool {
	return slices.ContainsFunc(j.list, func(r rule) bool {
		return !r.isNeed && r.step == v && toSet(r.oneOf)&^stuck == 0
	})
}

func TestRootsAgainstTheirMeaning(t *testing.T) {
	several := 0
	forAll(t, 8, 6000, func(t *testing.T, r *rand.Rand, j job) {
		got, want := j.system().Roots(), j.roots()
		if !reflect.DeepEqual(got, want) {
			t.Errorf("roots %v, want %v", got, want)
		}
		if len(got) > 1 {
			several++
		}
	})
	if several == 0 {
		t.Error("no system with several roots")
	}
}

// holding is the system without the rules that rest on any other statement.
func (j job) holding(statements []int) job {
	kept := job{n: j.n}
	for _, r := range j.list {
		if !slices.ContainsFunc(r.why, func(b int) bool { return !slices.Contains(statements, b) }) {
			kept.list = append(kept.list, r)
		}
	}
	return kept
}

func TestConflictCannotBeSmaller(t *testing.T) {
	roots, facts := 0, 0
	forAll(t, 9, 8000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		for _, root := range s.Roots() {
			roots++
			within := toSet(root.Steps)
			kept := s.Conflict(root)
			if j.holding(kept).largestTrap(within) == 0 {
				t.Errorf("root %v: with %v alone nothing is stuck", root, kept)
			}
			if j.holding(kept).largestTrap(1<<j.n-1)&within == 0 {
				t.Errorf("root %v: with %v alone no step of it is stuck in the whole system", root, kept)
			}
			if j.holding(nil).largestTrap(within) != 0 {
				facts++
				if len(kept) > 0 {
					t.Errorf("root %v: %v, but the facts alone are in conflict", root, kept)
				}
			}
			for i := range kept {
				rest := slices.Delete(slices.Clone(kept), i, i+1)
				if j.holding(rest).largestTrap(within) != 0 {
					t.Errorf("root %v: %v, but %v is a conflict too", root, kept, rest)
				}
			}
		}
	})
	if roots < 2000 || facts < 50 {
		t.Errorf("%d roots, %d of them by facts alone", roots, facts)
	}
}

// TestNoConflictWithoutRoot asks for the reason why nothing is stuck.
func TestNoConflictWithoutRoot(t *testing.T) {
	forAll(t, 14, 1000, func(t *testing.T, r *rand.Rand, j job) {
		s := j.system()
		if s.Solvable() {
			if kept := s.Conflict(precedence.Root{Steps: toList(1<<j.n - 1)}); len(kept) > 0 {
				t.Errorf("conflict %v", kept)
			}
		}
	})
}
