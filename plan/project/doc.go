// Package project loads kits. It reads the kit file, finds the mesh of each
// piece, measures the meshes or takes the measurements from the cache, and checks
// the kit with all of that. The result is a [plan.Project], which everything else
// reads.
package project
