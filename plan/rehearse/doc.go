// Package rehearse replays a sequence of steps forward, as a builder would do them, and
// says at which step something fails and why.
//
// It knows nothing of how sequences are found. It reads the kit, the list of its steps
// and what was measured of the pieces, and keeps which joins are made and which pieces
// are in one group at that moment:
//
//   - a step comes after what it is asked to come after, and after the seats it goes onto;
//   - a piece gets into a space while the closer of an opening that it passes is in
//     another group than what the piece is fitted to;
//   - what moves reaches its seat in some direction past all that stands there;
//   - a join that opens can be undone to let something in. Taking off and putting back
//     are moves like any other, past all that stands there at that moment.
//
// A replay is deterministic. It takes straight ways, the ways of several legs that were
// measured, and undercuts; whether a piece must be turned in an opening does not matter to
// it, since what goes in straight goes in turned as well.
package rehearse
