// Package obj reads OBJ files: objects, or else groups, as separate meshes. Polygons are
// cut into triangles. Free-form surfaces are refused. OBJ states no unit.
package obj
