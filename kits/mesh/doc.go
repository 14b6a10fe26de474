// Package mesh holds the surface of one piece in its position in the finished
// model: its triangles, its size, volume and area, and what an examination found.
// All lengths are mm.
//
// The packages below read and write files: scan has what all formats share, stl,
// obj and threemf read one format each, and files opens any of them. Package
// health examines a mesh before it is printed. A bad file gives an error that
// says where and why, never half a mesh. [MaxCoordinate] and the readers' limits
// bound the memory and time that hostile files can take.
package mesh
