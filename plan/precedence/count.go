package precedence

import (
	"fmt"
	"math/big"
)

// Count is the number of valid orders and, of a solvable system, of the sets of
// steps that can be done at some moment (the empty set and the whole included).
type Count struct {
	Orders *big.Int
	Sets   int
}

// CountOrders counts the valid orders of a system of at most 64 steps by removing them
// in every possible way and remembering each set of steps that remains. It gives up with
// an error when there are more than maxSets sets.
func (s *System) CountOrders(maxSets int) (Count, error) {
	if s.n > 64 {
		return Count{}, fmt.Errorf("cannot count the orders of %d steps; the limit is 64", s.n)
	}
	m := s.masks()
	whole := uint64(1)<<s.n - 1
	level := map[uint64]*big.Int{whole: big.NewInt(1)}
	sets := 1
	for range s.n {
		next := map[uint64]*big.Int{}
		for remaining, ways := range level {
			for v := range s.n {
				if remaining>>v&1 == 0 || !m.mayBeLast(remaining, v) {
					continue
				}
				rest := remaining &^ (1 << v)
				if sum := next[rest]; sum != nil {
					sum.Add(sum, ways)
				} else {
					next[rest] = new(big.Int).Set(ways)
				}
			}
		}
		if sets += len(next); sets > maxSets {
			return Count{}, fmt.Errorf("there are more than %d sets of steps", maxSets)
		}
		level = next
	}
	orders := new(big.Int)
	if n := level[0]; n != nil {
		orders = n
	}
	return Count{orders, sets}, nil
}

// mayBeLast reports whether v may be the last of the remaining steps.
func (m *masks) mayBeLast(remaining uint64, v int) bool {
	if m.after[v]&remaining != 0 {
		return false
	}
	for _, oneOf := range m.clauses[v] {
		if oneOf&^remaining == 0 {
			return false
		}
	}
	return true
}

// masks are the constraints of a small system as sets of bits.
type masks struct {
	after   []uint64   // step -> the steps that need it
	clauses [][]uint64 // step -> the sets of its clauses
}

func (s *System) masks() *masks {
	m := &masks{make([]uint64, s.n), make([][]uint64, s.n)}
	for _, nd := range s.needs {
		m.after[nd.before] |= 1 << nd.after
	}
	for _, cl := range s.clauses {
		var set uint64
		for _, w := range s.members[cl.oneOf.from:cl.oneOf.to] {
			set |= 1 << w
		}
		m.clauses[cl.step] = append(m.clauses[cl.step], set)
	}
	return m
}
