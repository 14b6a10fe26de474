// Package draft measures meshes, with a kit or without one, and reports what was found:
// what touches, what overlaps, how it comes apart and goes together, and which spaces
// there are. From meshes alone it drafts a first kit file.
package draft
