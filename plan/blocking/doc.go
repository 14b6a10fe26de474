// Package blocking finds which piece blocks which, from meshes in assembled
// position, and takes the model apart.
//
// The model is viewed along many directions. Across each lies a square grid of
// sample lines; each line records where it enters and leaves every piece, in
// order (a layered depth image). This gives, for every pair of pieces and both
// senses of the direction, whether one blocks the other, where they touch and
// where they overlap. Blocking is a relation between pairs, so what holds for the
// whole model holds for any part of it, and disassembly never needs backtracking:
// Wilson and Latombe, "Geometric reasoning about mechanical assembly", Artificial
// Intelligence 71 (1994) 371-396.
//
// Limits: an overlap across the direction of travel is always found when a disc
// of one and a half times the pitch fits into it, and never reported when a disc
// of half the pitch does not. Pieces are rigid and move without turning.
package blocking
