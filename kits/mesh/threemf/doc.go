// Package threemf reads 3MF files by the core specification 1.4 and the
// production extension 1.1, strictly, and writes them by the core specification.
// Materials are checked, not kept. A file
// that requires an extension that changes the shape (beam lattices, displacement,
// boolean operations, volumes) or hides it (secure content) is rejected, naming
// the extension.
package threemf
