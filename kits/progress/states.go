package progress

import (
	"strings"

	"dryfit/kits"
)

// States is a set of what has been done to a piece.
type States uint8

// The states of a piece. Cleaned covers all that is done to a print before paint:
// washing, curing, removing supports, sanding.
const (
	Printed States = 1 << iota
	Cleaned
	Painted
	Fitted
)

// stateNames are the words of the file, in the order of the states.
var stateNames = []string{"printed", "cleaned", "painted", "fitted"}

// StateNames lists the words for states, in their order.
func StateNames() []string { return append([]string(nil), stateNames...) }

// StateOf is the state of a name, or none.
func StateOf(name string) (States, bool) {
	for i, n := range stateNames {
		if n == name {
			return 1 << i, true
		}
	}
	return 0, false
}

// statesOf is the set of known words.
func statesOf(names []string) (s States) {
	for _, name := range names {
		one, _ := StateOf(name)
		s |= one
	}
	return s
}

// list splits a set into single states.
func (s States) list() []States {
	var list []States
	for i := range stateNames {
		if one := States(1 << i); s&one != 0 {
			list = append(list, one)
		}
	}
	return list
}

// Names lists the words for a set.
func (s States) Names() []string {
	var names []string
	for i, n := range stateNames {
		if s>>i&1 == 1 {
			names = append(names, n)
		}
	}
	return names
}

func (s States) String() string { return strings.Join(s.Names(), ", ") }

// Implied adds the states that must have come before: what is painted or fitted was clean,
// and what is painted on its own was painted before it was fitted. Nothing follows for
// what is painted on the model, or not at all.
func (s States) Implied(p *kits.Part) States {
	if s&Fitted != 0 {
		s |= Cleaned
		if p.PaintedAlone() {
			s |= Painted
		}
	}
	if s&Painted != 0 {
		s |= Cleaned
	}
	if s&Cleaned != 0 {
		s |= Printed
	}
	return s
}

// without removes a state and those that imply it.
func (s States) without(state States, p *kits.Part) States {
	s = s.Implied(p)
	for _, one := range s.list() {
		if one.Implied(p)&state != 0 {
			s &^= one
		}
	}
	return s
}
