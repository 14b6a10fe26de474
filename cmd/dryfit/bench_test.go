package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
)

// The whole of dryfit order inside the process: read, solve, order, print.
func BenchmarkOrder(b *testing.B) {
	dir := b.TempDir()
	if err := os.WriteFile(filepath.Join(dir, kits.FileName), demo.Kit, 0o644); err != nil {
		b.Fatal(err)
	}
	for _, format := range orderFormats {
		b.Run(format, func(b *testing.B) {
			for b.Loop() {
				if err := runOrder(b.Context(), io.Discard, io.Discard, dir, orderOptions{format: format}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
