// Package plan turns a kit into constraints and finds the order in which a person
// would build it.
//
//	kit, geometry -> Constraints: every condition of every step, with the statement it came from
//	              -> Solution: which orders exist; straight ways in first, then with more asked of the builder
//	              -> Sequence: the order a person would want, sub-builds, last calls
//	              -> Project: all that is known of a kit, which everything else reads
//
// A piece reaches its seat by an [Access]: into a space or past meshes, by one of several
// routes, each open while none of its blockers is in place. A blocker is in place once a
// set of joins is done. Explanations, repairs, what remains, and the last calls for pieces
// and wires are all derived from that one type.
//
// The package knows nothing of terminals or drawings and never changes a kit;
// package explain says what is wrong with one. It has more than 25 files because
// every part of the ordering, from ranking to cost, works on the constraints of
// one kit; each file holds one part.
package plan
