package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/demo"
)

// The whole of dryfit order inside the process: read, solve, order, print.
func BenchmarkOrder(b *testing.B) {
	dir := b.TempDir()
	if err := os.WriteFile(filepath.Join(dir, kits.FileName), demo.Kit, 0o644); err != nil {
		b.Fatal(err)
	}
	for _, format := range document.Formats(true) {
		b.Run(format, func(b *testing.B) {
			for b.Loop() {
				root := newRoot()
				root.SetOut(io.Discard)
				root.SetErr(io.Discard)
				root.SetArgs([]string{"order", dir, "--format", format})
				if err := root.ExecuteContext(b.Context()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
