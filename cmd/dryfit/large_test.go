package main

import (
	"io"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
)

// The commands on kits at the limit of 20,000 pieces, known by their size only.
func BenchmarkLargestKits(b *testing.B) {
	for _, of := range []struct {
		name          string
		parts, copies int
	}{{"different", 19_800, 1}, {"copies", 198, 100}} {
		dir := b.TempDir()
		if err := os.WriteFile(filepath.Join(dir, kits.FileName), []byte(kitstest.Large(of.parts, of.copies)), 0o600); err != nil {
			b.Fatal(err)
		}
		for _, args := range [][]string{
			{"check", dir}, {"order", dir}, {"why", dir, "p0"}, {"time", dir}, {"parts", dir}, {"totals", dir}, {"next", dir}, {"lights", dir},
			{"compare", dir, dir}, {"rescale", dir, "1:24"}, {"printing", dir}, {"booklet", dir, "--check"}, {"page", dir, "--out", filepath.Join(dir, "site")},
		} {
			b.Run(of.name+"/"+args[0], func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					root := newRoot()
					root.SetOut(io.Discard)
					root.SetErr(io.Discard)
					root.SetArgs(args)
					if err := root.ExecuteContext(b.Context()); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}
