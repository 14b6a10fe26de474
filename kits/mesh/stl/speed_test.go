package stl_test

import (
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
)

// bigSTL writes a binary STL of n triangles: a rough sheet, not closed, as the
// speed of reading does not depend on the form.
func bigSTL(tb testing.TB, n int) string {
	data := make([]byte, 84+50*n)
	binary.LittleEndian.PutUint32(data[80:], uint32(n))
	for i := range n {
		rec := data[84+50*i+12:]
		for c := range 9 {
			v := float32(math.Mod(float64(i*7+c*13)*0.37, 200))
			binary.LittleEndian.PutUint32(rec[4*c:], math.Float32bits(v))
		}
	}
	path := filepath.Join(tb.TempDir(), "big.stl")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		tb.Fatal(err)
	}
	return path
}

// BenchmarkOpenBinarySTL measures opening: one pass with box, volume, area, centre
// and hash.
func BenchmarkOpenBinarySTL(b *testing.B) {
	const n = 2_000_000
	path := bigSTL(b, n)
	for b.Loop() {
		if _, err := files.Open(path, files.Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mtriangles/s")
}

// BenchmarkReadBinarySTL measures reading it once more.
func BenchmarkReadBinarySTL(b *testing.B) {
	const n = 2_000_000
	list, err := files.Open(bigSTL(b, n), files.Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := list[0].Blocks(func(int, []mesh.Triangle) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mtriangles/s")
}
