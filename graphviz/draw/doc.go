// Package draw makes line drawings of meshes, with hidden lines removed, and pictures
// of building steps from them. It knows of meshes, views and travels, not of kits.
package draw
