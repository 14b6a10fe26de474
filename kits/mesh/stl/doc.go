// Package stl reads and writes STL files.
//
// Binary and text files are read, with several solids in a text file. Normals, colours and
// the binary header are ignored. STL states no unit. Large binary files are never held in
// memory: they are read again, in blocks, each time their triangles are wanted.
package stl
