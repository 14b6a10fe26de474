package kits

import (
	"fmt"

	"dryfit/kits/format"
	"dryfit/kits/plain"
)

// WithMeshes is the text of a kit file whose meshes are in another place, a path beside
// it; everything else stays the same byte for byte. The error says what cannot be
// rewritten.
func WithMeshes(name string, data []byte, meshes string) ([]byte, error) {
	root, faults := format.Tree(name, "kit file", data)
	if faults != nil {
		return nil, faults
	}
	n := format.Value(root, "meshes")
	if n == nil {
		return nil, fmt.Errorf("%s names no meshes", plain.Text(name))
	}
	e := format.NewEdits(data, root)
	quote := quoteOf(n)
	if err := e.Replace(n, quote+n.Value+quote, meshes); err != nil {
		return nil, fmt.Errorf("%s: %w", plain.Text(name), err)
	}
	out := e.Apply()
	_, err := Read(name, out)
	return out, err
}
