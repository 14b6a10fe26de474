// Package mesh holds the surface of one piece where it stands in the finished model: its
// triangles, its size, volume and area, and what an examination found. All lengths are
// mm.
//
// The packages below read and write files: scan has what all formats share, stl, obj and
// threemf read one format each, and files opens any of them. Package health examines a
// mesh before it is printed. A file that is wrong gives an error that says where and why,
// never half a mesh. Hostile files are bounded in memory and time by [MaxCoordinate] and
// the limits beside the readers.
package mesh
