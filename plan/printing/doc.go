// Package printing plans the printing of a kit: which part fits which printer and how
// it lies there, how its layers grow, how the pieces share plates, and when each step
// of the build has its pieces.
//
// It takes parts as closed surfaces that give out triangles, with the number of the
// step that needs each piece; it knows no files, commands or drawings. The same request
// gives the same plan. Nothing here slices for a printer: times and masses are
// estimates that come with their assumptions.
package printing
