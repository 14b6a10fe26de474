// Package health examines a mesh for what makes it fail in print: holes, faces that cross,
// shells inside out, sealed hollows, thin walls. All lengths are mm.
package health
