// Package printing plans the printing of a kit: which part fits which printer and how
// it lies there, how its layers grow, how the pieces share plates, and when each step
// of the build has its pieces.
//
// It takes parts as closed surfaces of triangles, with the number of the step
// that needs each piece; [Ask] makes that of a project. It opens no files and knows nothing
// of commands or drawings: what was measured before is given as bytes, see [Known]. The
// same request gives the same plan. Nothing here slices for a printer: times and masses
// are estimates, given with their assumptions.
package printing
