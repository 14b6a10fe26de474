package coincident

import (
	"cmp"
	"context"
	"slices"
	"sort"

	"dryfit/kits/mesh"
)

// crossings lists where lines along z, each through a point, cross the surface of a mesh.
func crossings(ctx context.Context, m *mesh.Mesh, points []probe) ([][]float64, error) {
	order := make([]int, len(points)) // by x
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(points[a].x, points[b].x) })
	met := make([][]float64, len(points))
	err := m.Blocks(func(_ int, block []mesh.Triangle) error {
		for n := range block {
			t := &block[n]
			low, high := float64(min(t[0][0], t[1][0], t[2][0])), float64(max(t[0][0], t[1][0], t[2][0]))
			from := sort.Search(len(order), func(i int) bool { return points[order[i]].x >= low })
			for _, p := range order[from:] {
				if points[p].x > high {
					break
				}
				if z, hit := cross(t, points[p].x, points[p].y); hit {
					met[p] = append(met[p], z)
				}
			}
		}
		return ctx.Err()
	})
	return met, err
}

// cross is where the line along z at x, y crosses a triangle. Triangles that share an edge
// agree on which of them it crosses: the number of edges to one side decides (the crossing
// number of a polygon), each computed from its lower end.
func cross(t *mesh.Triangle, x, y float64) (z float64, hit bool) {
	for k := range 3 {
		a, b := &t[k], &t[(k+1)%3]
		if (float64(a[1]) > y) == (float64(b[1]) > y) {
			continue
		}
		if a[1] > b[1] {
			a, b = b, a
		}
		share := (y - float64(a[1])) / (float64(b[1]) - float64(a[1]))
		if x < float64(a[0])+share*(float64(b[0])-float64(a[0])) {
			hit = !hit
		}
	}
	if !hit {
		return 0, false
	}
	return height(t, x, y)
}

// height is the z of the plane of a triangle at x, y. A triangle on edge has none.
func height(t *mesh.Triangle, x, y float64) (float64, bool) {
	var u, v [3]float64
	for k := range 3 {
		u[k], v[k] = float64(t[1][k])-float64(t[0][k]), float64(t[2][k])-float64(t[0][k])
	}
	nx, ny, nz := u[1]*v[2]-u[2]*v[1], u[2]*v[0]-u[0]*v[2], u[0]*v[1]-u[1]*v[0]
	if nz == 0 {
		return 0, false
	}
	return float64(t[0][2]) - (nx*(x-float64(t[0][0]))+ny*(y-float64(t[0][1])))/nz, true
}
