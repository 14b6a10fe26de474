// Package mesh reads the meshes of parts (STL, 3MF, OBJ) and tells what a designer
// must know of each before it is printed: size, volume, area and health.
//
// A mesh stands where its piece stands in the finished model. All lengths are mm.
// Large binary STL files are never held in memory: they are read again, in blocks,
// each time their triangles are wanted. The triangles of the other formats are kept.
//
// Formats, and what is not read of them:
//   - STL, binary or text, with several solids in a text file. Normals, colours and
//     the binary header are passed over. It states no unit, see [Options].
//   - OBJ: objects, or else groups, as separate meshes; polygons are cut into
//     triangles. Free-form surfaces are refused. It states no unit either.
//   - 3MF: core specification 1.4 and production extension 1.1, strictly. Materials
//     are checked, not kept. A file that requires an extension that changes the
//     shape (beam lattices, displacement, boolean operations, volumes) or hides it
//     (secure content) is refused by name.
//
// A file that is wrong gives an error that says where and why, never half a mesh.
// Hostile files are bounded in memory and time: [MaxTriangles], [MaxCoordinate], and
// the limits beside the readers.
package mesh
