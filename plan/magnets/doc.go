// Package magnets tells which magnets of a kit attract and which repel, and whether
// each suits its pocket. Magnets are taken as dipoles at their middles: enough for the
// sign of what two small ones do to each other, not for how strongly.
package magnets
