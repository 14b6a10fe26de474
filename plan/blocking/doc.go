// Package blocking finds out from meshes in assembled position which piece blocks which,
// and takes the model apart.
//
// The model is looked at along many directions. Across each lies a square grid of
// samples; along each sample line all pieces are met in order, where they are
// entered and left (a layered depth image). From that follows for every pair of
// pieces and both senses of the direction whether one keeps the other from
// leaving, where pieces touch and where they overlap. Blocking is a relation of
// pairs, so what holds for the whole model holds for any part of it, and taking
// the model apart never needs to be undone: Wilson and Latombe, "Geometric
// reasoning about mechanical assembly", Artificial Intelligence 71 (1994)
// 371-396.
//
// What can be missed: an overlap across the direction of travel is always found
// when a disc of one and a half times the pitch fits into it, and never reported
// when none of half the pitch does. Pieces are rigid and move without turning.
package blocking
