// Package project measures kits: it finds the mesh of each piece, has reach look at
// them, keeps what was found beside the kit, and hands it to plan as plain numbers.
// Without a kit file it drafts one from the meshes alone.
package project
