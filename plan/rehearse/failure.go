package rehearse

import "dryfit/kits"

// Kind says why a step cannot be done.
type Kind string

// The kinds of failures, as they are called in JSON.
const (
	Again    Kind = "again"    // it is done already
	Early    Kind = "early"    // other steps must be done before it
	Unseated Kind = "unseated" // what it goes onto is not in its place
	Apart    Kind = "apart"    // what it ties together is not in one group
	TooLarge Kind = "large"    // it passes no opening of a space
	Shut     Kind = "shut"     // every opening that it passes is shut
	Blocked  Kind = "blocked"  // pieces that stand there are in the way of its travel
	Firm     Kind = "firm"     // it cannot be taken off: its join does not open
	Held     Kind = "held"     // it cannot be taken off: something is fixed across it
	Absent   Kind = "absent"   // it cannot be taken off: it is not on the model
	GivenUp  Kind = "given-up" // so much can be taken off that not all of it was tried
)

// Failure is why a step cannot be done. Steps and pieces go by their numbers.
type Failure struct {
	Action Action
	Kind   Kind
	Piece  int         // what cannot get to its seat; -1 if it is not about one
	Pieces []int       // that are missing, apart, or in the way
	Steps  []int       // that must be done first, or are fixed across
	Space  *kits.Space // that cannot be entered
	// alone lists, where a single piece that moves alone is blocked, all that stands then.
	alone []int
	// Tried are the joins that would let it in if they could be undone and made again.
	Tried []Tried
}

// Tried is a join that cannot be undone, or not be made again, to let something in.
type Tried struct {
	Step int
	Back bool // it comes off, and cannot be put back
	Why  *Failure
}
