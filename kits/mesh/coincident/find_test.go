package coincident_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/coincident"
	"dryfit/kits/mesh/meshtest"
)

// solids makes meshes of triangles, in their order.
func solids(t *testing.T, lists ...[]mesh.Triangle) []*mesh.Mesh {
	t.Helper()
	var out []*mesh.Mesh
	for i, list := range lists {
		m, err := mesh.FromTriangles(fmt.Sprint("m", i), list)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, m)
	}
	return out
}

func box(x, y, z, dx, dy, dz float64) []mesh.Triangle {
	return meshtest.Box([3]float64{x, y, z}, [3]float64{x + dx, y + dy, z + dz})
}

// shell is a hollow ball.
func shell(outer, inner float64) []mesh.Triangle {
	list := meshtest.Sphere(outer, 24, 12)
	for _, t := range meshtest.Sphere(inner, 24, 12) {
		list = append(list, mesh.Triangle{t[0], t[2], t[1]})
	}
	return list
}

// strand winds a square rod twice round the z axis.
func strand(start float64) []mesh.Triangle {
	const steps = 96
	corner := func(i, k int) [3]float32 {
		a := start + 4*math.Pi*float64(i)/steps
		r := 10 + 2*float64(k/2)
		z := 30*float64(i)/steps + 2*float64((k+k/2)%2)
		return [3]float32{float32(r * math.Cos(a)), float32(r * math.Sin(a)), float32(z)}
	}
	var list []mesh.Triangle
	for i := range steps {
		for k := range 4 {
			a, b, c, d := corner(i, k), corner(i, (k+1)%4), corner(i+1, (k+1)%4), corner(i+1, k)
			list = append(list, mesh.Triangle{a, b, c}, mesh.Triangle{a, c, d})
		}
	}
	list = append(list, mesh.Triangle{corner(0, 0), corner(0, 2), corner(0, 1)}, mesh.Triangle{corner(0, 0), corner(0, 3), corner(0, 2)},
		mesh.Triangle{corner(steps, 0), corner(steps, 1), corner(steps, 2)}, mesh.Triangle{corner(steps, 0), corner(steps, 2), corner(steps, 3)})
	return list
}

// pile is boxes of many shapes with one corner at the origin.
func pile(n int) (lists [][]mesh.Triangle) {
	for i := range n {
		lists = append(lists, box(0, 0, 0, 5+float64(i%7), 6+float64(i%5)/2, 4+float64(i)/3))
	}
	return lists
}

func TestFind(t *testing.T) {
	cube := box(5, 5, 5, 10, 10, 10)
	moved := func(list []mesh.Triangle, by float32) []mesh.Triangle {
		out := make([]mesh.Triangle, len(list))
		for i, tri := range list {
			for c := range tri {
				tri[c][0] += by
			}
			out[i] = tri
		}
		return out
	}
	centred := func(dx, dy, dz float64) []mesh.Triangle { return box(-dx/2, -dy/2, -dz/2, dx, dy, dz) }
	nested := [][]mesh.Triangle{shell(10, 9), shell(9, 8), shell(8, 7), shell(7, 6), shell(6, 5), shell(5, 4)}
	for what, c := range map[string]struct {
		lists [][]mesh.Triangle
		want  string
	}{
		"nothing":           {nil, "[]"},
		"one":               {[][]mesh.Triangle{cube}, "[]"},
		"two copies":        {[][]mesh.Triangle{cube, box(30, 0, 0, 4, 4, 4), cube}, "[[0 2]]"},
		"two of three":      {[][]mesh.Triangle{cube, moved(cube, 12), cube}, "[[0 2]]"},
		"last digits":       {[][]mesh.Triangle{cube, moved(cube, 1e-4)}, "[[0 1]]"},
		"two heaps":         {[][]mesh.Triangle{cube, moved(cube, 20), cube, moved(cube, 20), cube}, "[[0 2 4] [1 3]]"},
		"side by side":      {[][]mesh.Triangle{cube, moved(cube, 10), moved(cube, 20)}, "[]"},
		"an overlap":        {[][]mesh.Triangle{cube, moved(cube, 1)}, "[]"},
		"nested shells":     {nested, "[]"},
		"shells in a solid": {append([][]mesh.Triangle{meshtest.Sphere(11, 24, 12)}, nested...), "[]"},
		"a shell twice":     {append([][]mesh.Triangle{shell(8, 7)}, nested...), "[[0 3]]"},
		"strands of a rope": {[][]mesh.Triangle{strand(0), strand(math.Pi)}, "[]"},
		"a strand twice":    {[][]mesh.Triangle{strand(0), strand(math.Pi), strand(0)}, "[[0 2]]"},
		"tubes on an axle":  {[][]mesh.Triangle{meshtest.Tube(4, 3, -5, 5, 24), meshtest.Tube(3, 2, -9, 9, 24), meshtest.Tube(2, 1, -2, 2, 24), meshtest.Cylinder(1, -12, 12, 24), meshtest.Tube(5, 4, -1, 1, 24)}, "[]"},
		"four at one point": {pile(4), "[]"},
		"a pile":            {pile(12), "[[0 1 2 3 4 5 6 7 8 9 10 11]]"},
		"a pile beside a model": {append(pile(6), box(100, 0, 0, 9, 9, 9), box(109, 0, 0, 9, 9, 9)),
			"[[0 1 2 3 4 5]]"},
		"about their centres": {[][]mesh.Triangle{centred(9, 5, 4), centred(3, 8, 5), centred(6, 6, 6), centred(4, 9, 9), centred(5, 7, 3), centred(8, 8, 8)},
			"[[0 1 2 3 4 5]]"},
		"a floor and its tiles": {[][]mesh.Triangle{box(0, 0, -1, 40, 40, 1), box(0, 0, 0, 10, 10, 1), box(10, 0, 0, 10, 10, 1), box(20, 0, 0, 10, 10, 1)}, "[]"},
		"without triangles":     {[][]mesh.Triangle{nil, nil, nil}, "[]"},
		"open copies":           {[][]mesh.Triangle{cube[3:], cube[3:]}, "[[0 1]]"},
		"open surfaces":         {[][]mesh.Triangle{cube[3:], moved(cube[3:], 1e-4)}, "[]"},
	} {
		got, err := coincident.Find(t.Context(), solids(t, c.lists...))
		if err != nil || fmt.Sprint(got) != c.want {
			t.Errorf("%s: %v, %v, want %s", what, got, err, c.want)
		}
	}
}

// A thousand copies are one group, however few of them were compared.
func TestThousand(t *testing.T) {
	var lists [][]mesh.Triangle
	for range 1000 {
		lists = append(lists, box(0, 0, 0, 1, 2, 3))
	}
	got, err := coincident.Find(t.Context(), solids(t, lists...))
	if err != nil || len(got) != 1 || len(got[0]) != 1000 {
		t.Errorf("%d groups, %v", len(got), err)
	}
}

func TestStopped(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	stop()
	if _, err := coincident.Find(ctx, solids(t, pile(5)...)); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}
