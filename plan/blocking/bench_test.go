package blocking_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"testing"
	"time"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
	"dryfit/plan/blocking"
)

// generatedKit makes a kit of 134 pieces with a given number of triangles: a hull
// of 600 x 300 x 250 mm in two halves, each with 15 % of the triangles, and 132
// pieces inside it, a third of them in random poses. They overlap here and there.
func generatedKit(tb testing.TB, triangles int) []*mesh.Mesh {
	r := rand.New(rand.NewSource(1))
	var pieces []*mesh.Mesh
	add := func(list []mesh.Triangle) {
		m, err := mesh.FromTriangles(fmt.Sprintf("piece-%03d", len(pieces)), list)
		if err != nil {
			tb.Fatal(err)
		}
		pieces = append(pieces, m)
	}
	half := int(math.Sqrt(float64(triangles) * 0.15 / 4))
	hull := meshtest.HalfShell(150, 147.5, 2*half, half)
	for i := range hull {
		for c := range hull[i] {
			hull[i][c][0] *= 2
			hull[i][c][1] *= 0.83
		}
	}
	add(hull)
	add(meshtest.Transform(hull, [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, [3]float64{}, 1))
	each := float64(triangles) * 0.7 / 132
	side := int(math.Sqrt(each / 2))
	for i := range 132 {
		var list []mesh.Triangle
		size := 4 + 8*r.Float64()
		switch i % 4 {
		case 0:
			list = meshtest.Sphere(size, side, side)
		case 1:
			list = meshtest.Torus(size, size/4, side, side)
		case 2:
			list = fineTube(size, size/2, 2*size, side)
		default:
			list = fineTube(size, size*0.8, size/2, side)
		}
		turn := [3][3]float64{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
		if i%3 == 0 {
			turn = meshtest.RandomRotation(r)
		}
		add(meshtest.Transform(list, turn, [3]float64{-220 + 40*float64(i%12), -70 + 28*float64(i/12%6), -50 + 50*float64(i/72)}, 1))
	}
	return pieces
}

// fineTube is a tube whose walls are cut into as many rings as it has segments.
func fineTube(outer, inner, height float64, segments int) []mesh.Triangle {
	var profile [][2]float64
	rings := max(segments/2, 1)
	for i := range rings {
		profile = append(profile, [2]float64{outer, height * float64(i) / float64(rings)})
	}
	for i := range rings {
		profile = append(profile, [2]float64{inner, height * (1 - float64(i)/float64(rings))})
	}
	return meshtest.Lathe(profile, segments)
}

// written writes a generated kit into files and opens it from there. It returns the
// time that takes the second time, when the files are in the system's memory.
func written(b *testing.B, triangles int) (pieces []*mesh.Mesh, count int, read time.Duration) {
	dir := b.TempDir()
	for _, p := range generatedKit(b, triangles) {
		var list []mesh.Triangle
		if err := p.Blocks(func(_ int, block []mesh.Triangle) error { list = append(list, block...); return nil }); err != nil {
			b.Fatal(err)
		}
		f, err := os.Create(filepath.Join(dir, p.Name+".stl"))
		if err != nil {
			b.Fatal(err)
		}
		if err := stl.Write(f, list); err != nil {
			b.Fatal(err)
		}
		if err := f.Close(); err != nil {
			b.Fatal(err)
		}
		count += len(list)
	}
	read = time.Hour
	for range 3 {
		begin := time.Now()
		var err error
		if pieces, err = files.OpenFolder(dir, files.Options{}); err != nil {
			b.Fatal(err)
		}
		read = min(read, time.Since(begin))
	}
	return pieces, count, read
}

// cpu is the processor time this process has used, in seconds: on a machine that
// others use too it says more than the time on the clock.
func cpu() float64 {
	s := []metrics.Sample{{Name: "/cpu/classes/user:cpu-seconds"}, {Name: "/cpu/classes/gc/total:cpu-seconds"}}
	runtime.GC() // the figures are those of the last collection
	metrics.Read(s)
	return s[0].Value.Float64() + s[1].Value.Float64()
}

// BenchmarkMeasure looks at a kit in files from all directions. x-read is how many
// times as long that takes as reading the files once.
func BenchmarkMeasure(b *testing.B) {
	for _, million := range []int{1, 10, 30} {
		b.Run(fmt.Sprintf("%dM", million), func(b *testing.B) {
			pieces, count, read := written(b, million*1_000_000)
			for _, pitch := range []float64{0.5, 0.3} {
				b.Run(fmt.Sprintf("%.1fmm", pitch), func(b *testing.B) {
					axes, before := 0, cpu()
					for b.Loop() {
						m, err := blocking.Measure(context.Background(), pieces, blocking.Settings{Pitch: pitch})
						if err != nil {
							b.Fatal(err)
						}
						axes = len(m.Directions) / 2
					}
					b.ReportMetric((cpu()-before)/float64(b.N), "cpu-s")
					b.ReportMetric(float64(count)/1e6, "Mtri")
					b.ReportMetric(float64(count)/1e6/read.Seconds(), "read-Mtri/s")
					b.ReportMetric(float64(axes), "axes")
					b.ReportMetric(b.Elapsed().Seconds()/float64(b.N)/read.Seconds(), "x-read")
				})
			}
		})
	}
}

func BenchmarkDisassemble(b *testing.B) {
	for _, million := range []int{1, 10} {
		b.Run(fmt.Sprintf("%dM", million), func(b *testing.B) {
			pieces := generatedKit(b, million*1_000_000)
			m, err := blocking.Measure(context.Background(), pieces, blocking.Settings{Pitch: 0.3})
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				a, err := m.Disassemble(context.Background())
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(a.Moves)), "moves")
				b.ReportMetric(float64(len(a.Locked)), "locks")
			}
		})
	}
}
