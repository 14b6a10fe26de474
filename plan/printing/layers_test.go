package printing

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

func meshOf(t testing.TB, list []mesh.Triangle) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles("part", list)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func hullOfMesh(t testing.TB, m *mesh.Mesh) *Hull {
	t.Helper()
	var h hullMaker
	if err := each(t.Context(), m, h.add); err != nil {
		t.Fatal(err)
	}
	return h.hull()
}

func layersOf(t testing.TB, list []mesh.Triangle, turn Turn, layer float64) *Profile {
	t.Helper()
	m := meshOf(t, list)
	p, err := Layers(t.Context(), m, hullOfMesh(t, m), turn, layer)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// Layers of solids whose cross-sections are known in closed form, where they stand and
// far from the origin.
func TestLayersOfKnownSolids(t *testing.T) {
	cone := func(z float64) float64 { r := 20 * (1 - z/50); return 400.0 / 2 * math.Sin(2*math.Pi/400) * r * r }
	tip := math.Sqrt(3) // a cube of side 1 on its corner is this high
	for _, c := range []struct {
		name  string
		solid []mesh.Triangle
		turn  Turn
		layer float64
		area  func(z float64) float64
		close float64
	}{
		{"box", meshtest.Box([3]float64{3, 4, 5}, [3]float64{13, 24, 35}), asModelled, 0.05, func(float64) float64 { return 200 }, 1e-3},
		{"box on its side", meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 20, 30}), rightAngles[1], 0.05, func(float64) float64 { return 300 }, 1e-3},
		{"frustum", meshtest.Frustum(20, 0.0001, 0, 50, 400), asModelled, 0.1, cone, 1e-2},
		{"cube on its corner", meshtest.Box([3]float64{-50, -50, -50}, [3]float64{50, 50, 50}), standing(geom.Vec{-1, -1, -1}), 0.2, func(z float64) float64 {
			// Triangles at both ends, a hexagon in between (elementary geometry).
			z /= 100
			third := tip / 3
			full := func(h float64) float64 { return 1.5 * math.Sqrt(3) * h * h }
			a := full(z)
			if z > third {
				a -= 3 * full(z-third)
			}
			if z > 2*third {
				a += 3 * full(z-2*third)
			}
			return 10000 * a
		}, 0.5},
		{"tube", meshtest.Tube(10, 8, 0, 20, 100), asModelled, 0.05, func(float64) float64 { return 50 * math.Sin(2*math.Pi/100) * (100 - 64) }, 1e-2},
	} {
		for _, away := range []float64{0, 5000} {
			solid := meshtest.Transform(c.solid, matrix(asModelled), [3]float64{away, -away, away}, 1)
			close := c.close
			if away > 0 {
				close = 0.02*c.area(5) + 1 // coordinates there resolve half a thousandth of a mm
			}
			p := layersOf(t, solid, c.turn, c.layer)
			for n, area := range p.Area {
				a := float64(area)
				if n < 2 || n > len(p.Area)-3 {
					continue
				}
				if want := c.area((float64(n) + 0.5) * p.Step); math.Abs(a-want) > close {
					t.Fatalf("%s, %g mm away: layer %d has %.4f mm2, want %.4f", c.name, away, n, a, want)
				}
			}
		}
	}
}

// The largest layer of a ball is its equator, pi r2 (elementary geometry).
func TestLargestLayer(t *testing.T) {
	rng := rand.New(rand.NewSource(6))
	ball := meshtest.Sphere(30, 200, 100)
	p := layersOf(t, ball, fromQuaternion(unit4(rng)), 0.05)
	l := p.Largest()
	if want := math.Pi * 900; math.Abs(l.Area-want) > 0.003*want || math.Abs(l.At-30) > 0.5 {
		t.Errorf("the largest layer of a ball of 30 mm has %.1f mm2 at %.2f mm, want %.1f at 30", l.Area, l.At, want)
	}
	if g := p.Growth(true); g.Area > 2*math.Pi*30*0.06 {
		t.Errorf("a ball's layers grow by %.1f mm2 at once", g.Area)
	}
	step := meshtest.Merge(meshtest.Box([3]float64{0, 0, 0}, [3]float64{10, 10, 5.02}), meshtest.Box([3]float64{0, 0, 5.02}, [3]float64{30, 20, 8}))
	l = layersOf(t, step, asModelled, 0.05).Growth(true)
	if math.Abs(l.Area-500) > 0.01 || math.Abs(l.At-5) > 0.03 {
		t.Errorf("a step from 100 to 600 mm2 at 5.02 mm is told as %.2f mm2 at %.3f mm", l.Area, l.At)
	}
}

// The layers of any solid, at any turn, add up to its volume; a bag of random facets
// that is closed has the volume that the mesh was measured to have.
func TestLayersAddUp(t *testing.T) {
	rng := rand.New(rand.NewSource(7))
	for _, solid := range [][]mesh.Triangle{meshtest.Torus(20, 6, 60, 40), meshtest.HalfShell(20, 18, 60, 30), meshtest.Cubes([][3]int{{0, 0, 0}, {1, 0, 0}, {1, 1, 0}, {1, 1, 1}}, 7)} {
		m := meshOf(t, solid)
		for range 20 {
			p := layersOf(t, solid, fromQuaternion(unit4(rng)), 0.02)
			var sum float64
			for _, a := range p.Area {
				sum += float64(a) * p.Step
			}
			if math.Abs(sum-m.Volume) > 2e-3*m.Volume {
				t.Errorf("the layers add up to %.2f mm3, the volume is %.2f", sum, m.Volume)
			}
		}
	}
}

// If there are too many layers, some are skipped.
func TestLayersAreBounded(t *testing.T) {
	p := layersOf(t, meshtest.Box([3]float64{0, 0, 0}, [3]float64{1, 1, 5000}), asModelled, 0.001)
	if n := len(p.Area); n > maxLayers || n < maxLayers/2 || math.Abs(float64(p.Area[n/2])-1) > 1e-6 {
		t.Errorf("%d layers of %g mm2", n, p.Area[n/2])
	}
}
