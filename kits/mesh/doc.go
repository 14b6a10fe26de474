// Package mesh reads the meshes of parts (STL, 3MF, OBJ) and tells what a designer
// must know of each before it is printed: size, volume, area and health.
//
// A mesh stands where its piece stands in the finished model. All lengths are mm.
// Large binary STL files are never held in memory: they are read again, in blocks,
// each time their triangles are wanted.
package mesh
