package reach_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/reach"
)

// generatedKit makes a kit of 134 pieces with so many triangles in all: a hull of
// 600 x 300 x 250 mm in two halves, each with 15 % of the triangles, and 132 pieces
// inside it, a third of them in random poses. They overlap here and there.
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

func BenchmarkMeasure(b *testing.B) {
	for _, million := range []int{1, 10, 30} {
		for _, pitch := range []float64{0.5, 0.3} {
			b.Run(fmt.Sprintf("%dM/%.1fmm", million, pitch), func(b *testing.B) {
				pieces := generatedKit(b, million*1_000_000)
				count := 0
				for _, p := range pieces {
					count += p.Len()
				}
				for b.Loop() {
					m, err := reach.Measure(context.Background(), pieces, reach.Settings{Pitch: pitch})
					if err != nil {
						b.Fatal(err)
					}
					b.ReportMetric(float64(len(m.Directions)/2), "axes")
				}
				b.ReportMetric(float64(count)/1e6, "Mtri")
			})
		}
	}
}

func BenchmarkTakeApart(b *testing.B) {
	for _, million := range []int{1, 10} {
		b.Run(fmt.Sprintf("%dM", million), func(b *testing.B) {
			pieces := generatedKit(b, million*1_000_000)
			m, err := reach.Measure(context.Background(), pieces, reach.Settings{Pitch: 0.3})
			if err != nil {
				b.Fatal(err)
			}
			for b.Loop() {
				a, err := m.TakeApart(context.Background())
				if err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(float64(len(a.Moves)), "moves")
				b.ReportMetric(float64(len(a.Locked)), "locks")
			}
		})
	}
}
