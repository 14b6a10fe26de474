// Package draw renders assembly steps from meshes: line drawings without perspective, with
// hidden lines removed, the new pieces drawn away from their seats, and arrows and labels.
//
// A [Renderer] turns a [Scene] into a [Rendering]: it chooses views that show the seats
// with as few turns of the model as possible, paints a depth buffer, keeps the visible
// stretches of edges, and writes marks of a [picture.Picture]. Pictures are deterministic,
// and kept in a [Cache] by what they show.
package draw
