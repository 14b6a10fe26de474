// Package meshtest makes closed meshes for tests and writes them to files.
//
// Every shape is closed and oriented: each edge is traversed once in each
// direction, shared corners are equal to the last bit, and triangles are
// counter-clockwise seen from outside. Lengths are mm. A shape that cannot be
// made (a hole outside its polygon, two segments for a circle) is a mistake in
// the test and panics.
package meshtest
