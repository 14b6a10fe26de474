// Package bitset is sets of small numbers, one bit each.
//
// It is our own because its sets are keys of maps ([Set.Key]) and are kept by value, two
// for each step; those of the common modules are behind pointers and make no keys.
package bitset

import (
	"encoding/binary"
	"math/bits"
	"slices"
)

// Set is a set of numbers below a bound. Sets that are used together have one bound.
type Set []uint64

// New is an empty set of numbers below n.
func New(n int) Set { return make(Set, (n+63)/64) }

// Add puts a number into the set.
func (s Set) Add(i int) { s[i/64] |= 1 << (i % 64) }

// Has reports whether a number is in the set.
func (s Set) Has(i int) bool { return s[i/64]>>(i%64)&1 == 1 }

// Or is a new set of what is in either.
func (s Set) Or(o Set) Set {
	u := slices.Clone(s)
	for i, w := range o {
		u[i] |= w
	}
	return u
}

// Without is a new set of what is in s and not in o.
func (s Set) Without(o Set) Set {
	u := slices.Clone(s)
	for i, w := range o {
		u[i] &^= w
	}
	return u
}

// Within reports whether all of s is in o.
func (s Set) Within(o Set) bool {
	for i, w := range s {
		if w&^o[i] != 0 {
			return false
		}
	}
	return true
}

// First is the first number of s that is not in o, -1 if there is none.
func (s Set) First(o Set) int {
	for i, w := range s {
		if w &^= o[i]; w != 0 {
			return 64*i + bits.TrailingZeros64(w)
		}
	}
	return -1
}

// Len is how many numbers are in the set.
func (s Set) Len() int {
	n := 0
	for _, w := range s {
		n += bits.OnesCount64(w)
	}
	return n
}

// List is the numbers of the set, the smallest first.
func (s Set) List() []int {
	var list []int
	for i, w := range s {
		for ; w != 0; w &= w - 1 {
			list = append(list, i*64+bits.TrailingZeros64(w))
		}
	}
	return list
}

// Key is a text that sets of one bound share only if they are equal, for maps.
func (s Set) Key() string {
	b := make([]byte, 0, 8*len(s))
	for _, w := range s {
		b = binary.LittleEndian.AppendUint64(b, w)
	}
	return string(b)
}
