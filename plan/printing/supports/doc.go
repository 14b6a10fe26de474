// Package supports measures what a part needs to be held up while it is printed at
// a turn: how much of its surface overhangs, the volume of the columns under it, the
// faces that they mark, the islands where a layer begins with nothing beneath it,
// and hollows that trap supports or hold resin.
//
// Areas are exact sums over triangles. What lies beneath a surface is read from
// sample columns on a grid of some 56 x 56 cells over the shadow, so a column on
// the part itself is right to about a cell at its edges. Nothing here places a
// single support: it is what supports have to hold.
package supports
