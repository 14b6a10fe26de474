package balance_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/balance"
)

type meshes map[string]*mesh.Mesh

func made(t *testing.T, list []mesh.Triangle, move [3]float64) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles("", meshtest.Transform(list, meshtest.Identity, move, 1))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func weighed(k *kits.Kit, from meshes) []balance.Weight {
	return balance.Weigh(&plan.Project{Kit: k, Meshes: meshtest.Collection(from, nil)}, k.FillOf)
}

// Solids whose mass and centre are known in closed form (by integration):
// a box; a cylinder; a cone, whose centre is a quarter of its height above the base;
// a tube; half a hollow sphere, whose centre is 3/8 (R^4 - r^4) / (R^3 - r^3) above its
// plane. Round ones are prisms of n sides here, for which the volume has a factor of
// sin(2 pi/n) / (2 pi/n), about 1 - 6.6/n^2; so 0.1 % is asked for.
func TestSolids(t *testing.T) {
	const n = 200
	const r, h, inner = 10.0, 30.0, 8.0
	for _, c := range []struct {
		name           string
		list           []mesh.Triangle
		volume, centre float64 // mm3, mm along z
	}{
		{"box", meshtest.Box([3]float64{0, 0, 0}, [3]float64{20, 30, 40}), 24000, 20},
		{"cylinder", meshtest.Cylinder(r, 0, h, n), math.Pi * r * r * h, h / 2},
		{"cone", meshtest.Lathe([][2]float64{{0, 0}, {r, 0}, {0, h}}, n), math.Pi * r * r * h / 3, h / 4},
		{"tube", meshtest.Tube(r, inner, 0, h, n), math.Pi * (r*r - inner*inner) * h, h / 2},
		{"half a hollow sphere", meshtest.HalfShell(r, inner, n, n), 2 * math.Pi / 3 * (r*r*r - inner*inner*inner),
			3.0 / 8 * (math.Pow(r, 4) - math.Pow(inner, 4)) / (math.Pow(r, 3) - math.Pow(inner, 3))},
	} {
		k := kitstest.Read(t, "kit: One\nparts:\n  solid: {printed: filament, material: petg}\n")
		w := weighed(k, meshes{"solid": made(t, c.list, [3]float64{7, -5, 100})})[0]
		if want := c.volume / 1000 * 1.27; math.Abs(w.Mass-want) > 0.001*want || w.How != balance.Solid {
			t.Errorf("%s: %.3f g, %s; want %.3f g", c.name, w.Mass, w.How, want)
		}
		if math.Abs(w.Centre[2]-100-c.centre) > 0.01 || w.Place != balance.Measured {
			t.Errorf("%s: its centre is %.3f mm up, want %.3f", c.name, w.Centre[2]-100, c.centre)
		}
	}
}

// What is known best is used: what the kit states, then meshes, then sizes; what
// is filled in part is lighter; what is not known is left out, and reported.
func TestHowMassesAreKnown(t *testing.T) {
	k := kitstest.Read(t, `kit: Many
parts:
  stated: {printed: filament, mass: 12, size: [20, 20, 20]}
  filled: {printed: filament, fill: 20%}
  full: {printed: filament}
  resin: {printed: resin}
  boxed: {printed: resin, size: [10, 20, 30]}
  steel: {bought: true, material: steel, quantity: 2}
  mystery: {bought: true, size: [1, 1, 1]}
  loose: {bought: true, mass: 3}
joins:
  - {fit: boxed, to: full, with: ca}
  - {fit: steel, to: boxed, with: ca}
materials:
  steel: {density: 7.85}
balance: {along: x, support: 0, fill: 10%}
`)
	cube := func(x float64) *mesh.Mesh {
		return made(t, meshtest.Box([3]float64{0, 0, 0}, [3]float64{20, 20, 20}), [3]float64{x, 0, 0})
	}
	list := weighed(k, meshes{"stated": cube(0), "filled": cube(100), "full": cube(200), "resin": cube(300), "steel.1": cube(400)})
	var got []string
	for p, w := range list {
		got = append(got, fmt.Sprintf("%s %.2f %s %.0f %s", k.Pieces[p].ID, w.Mass, w.How, w.Centre[0], w.Place))
	}
	// By hand: a cube of 20 mm has walls of 2880 mm3 and 5120 mm3 inside; PLA 1.24,
	// resin 1.15 g/cm3.
	want := `stated 12.00 stated 10 mesh
filled 4.84 filled 110 mesh
full 4.21 filled 210 mesh
resin 9.20 mesh 310 mesh
boxed 6.90 size 210 carrier
steel.1 62.80 mesh 410 mesh
steel.2 0.00 unknown 210 carrier
mystery 0.00 unknown 0 unknown
loose 3.00 stated 0 unknown`
	if strings.Join(got, "\n") != want {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
}
