package blocking_test

import (
	"context"
	"fmt"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// BenchmarkScenes measures scenes of several kinds. Crowds of 100 to 5,000 pieces at
// equal density show how the cost grows with the pieces, and balls of ever more
// triangles how it grows with these.
func BenchmarkScenes(b *testing.B) {
	scenes := []struct {
		name string
		list []meshtest.Object
	}{
		{"engine", meshtest.Engine()},
		{"bookcase", meshtest.Bookcase()},
		{"bricks-1200", meshtest.Bricks(1200)},
	}
	for _, n := range []int{100, 300, 1000, 3000, 5000} {
		scenes = append(scenes, struct {
			name string
			list []meshtest.Object
		}{fmt.Sprintf("crowd-%d", n), meshtest.Crowd(n)})
	}
	for _, s := range scenes {
		b.Run(s.name, func(b *testing.B) { measureScene(b, s.list) })
	}
	for _, million := range []float64{0.1, 0.3, 1, 3} {
		b.Run(fmt.Sprintf("hull-%.1fM", million), func(b *testing.B) {
			pieces := generatedKit(b, int(million*1e6))
			benchmarkPieces(b, pieces)
		})
	}
}

func measureScene(b *testing.B, list []meshtest.Object) {
	var pieces []*mesh.Mesh
	for _, o := range list {
		m, err := mesh.FromTriangles(o.Name, o.List)
		if err != nil {
			b.Fatal(err)
		}
		pieces = append(pieces, m)
	}
	benchmarkPieces(b, pieces)
}

// benchmarkPieces reports the processor time of measuring pieces, and that for each
// of them and for each million triangles.
func benchmarkPieces(b *testing.B, pieces []*mesh.Mesh) {
	count := 0
	for _, p := range pieces {
		count += p.Len()
	}
	before := cpu()
	for b.Loop() {
		if _, err := blocking.Measure(context.Background(), pieces, blocking.Settings{}); err != nil {
			b.Fatal(err)
		}
	}
	spent := (cpu() - before) / float64(b.N)
	b.ReportMetric(spent, "cpu-s")
	b.ReportMetric(spent/float64(len(pieces))*1000, "cpu-ms/piece")
	b.ReportMetric(spent/float64(count)*1e6, "cpu-s/Mtri")
}
