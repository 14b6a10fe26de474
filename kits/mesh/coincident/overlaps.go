package coincident

import (
	"context"
	"slices"

	"dryfit/kits/mesh"
)

// overlaps says which meshes of a list overlap by half of the smaller one or more.
type overlaps [][]bool

// with counts the meshes that overlap one.
func (o overlaps) with(i int) int {
	n := 0
	for _, yes := range o[i] {
		if yes {
			n++
		}
	}
	return n
}

// beside lists a mesh and those that overlap it, of the list they came from.
func (o overlaps) beside(i int, list []int) []int {
	out := []int{list[i]}
	for j, yes := range o[i] {
		if yes {
			out = append(out, list[j])
		}
	}
	return out
}

// median is how many others half of the meshes overlap.
func (o overlaps) median() int {
	var list []int
	for i := range o {
		list = append(list, o.with(i))
	}
	slices.Sort(list)
	return list[len(list)/2]
}

// compare finds out which of some meshes overlap, by points within each.
func compare(ctx context.Context, meshes []*mesh.Mesh, which []int) (overlaps, error) {
	var all []probe
	first := make([]int, len(which)+1) // of the probes of each mesh
	for i, p := range which {
		own, err := within(ctx, meshes[p])
		if err != nil {
			return nil, err
		}
		all = append(all, own...)
		first[i+1] = len(all)
	}
	o := make(overlaps, len(which))
	for i := range o {
		o[i] = make([]bool, len(which))
	}
	for j, p := range which {
		inside, err := inside(ctx, meshes[p], all)
		if err != nil {
			return nil, err
		}
		for i := range which {
			own := inside[first[i]:first[i+1]]
			n := 0
			for _, yes := range own {
				if yes {
					n++
				}
			}
			if i != j && len(own) > 0 && 2*n >= len(own) {
				o[i][j], o[j][i] = true, true
			}
		}
	}
	return o, nil
}

// probe is a point.
type probe struct{ x, y, z float64 }

const (
	across    = 12 // lines through a mesh, each way
	maxProbes = 16 // points within a mesh
)

// within lists points within a mesh, in the middle of its solid on lines along z.
func within(ctx context.Context, m *mesh.Mesh) ([]probe, error) {
	lines := make([]probe, 0, across*across)
	size := m.Size()
	for i := range across {
		for k := range across {
			// Unequal steps, so that no line runs along the faces of a regular shape.
			u, v := (float64(i)+0.4142136)/across, (float64(k)+0.6180340+0.01*float64(i%3))/across
			lines = append(lines, probe{x: m.Min[0] + u*size[0], y: m.Min[1] + v*size[1]})
		}
	}
	met, err := crossings(ctx, m, lines)
	if err != nil {
		return nil, err
	}
	var list []probe
	for i, z := range met {
		if len(z) == 0 || len(z)%2 != 0 {
			continue // it misses, or the surface is not closed there
		}
		slices.Sort(z)
		best := 0
		for k := 2; k < len(z); k += 2 {
			if z[k+1]-z[k] > z[best+1]-z[best] {
				best = k
			}
		}
		list = append(list, probe{lines[i].x, lines[i].y, (z[best] + z[best+1]) / 2})
	}
	if len(list) > maxProbes {
		few := make([]probe, maxProbes)
		for i := range few {
			few[i] = list[i*len(list)/maxProbes]
		}
		return few, nil
	}
	return list, nil
}

// inside reports for each point whether it lies in the solid of a mesh.
func inside(ctx context.Context, m *mesh.Mesh, points []probe) ([]bool, error) {
	met, err := crossings(ctx, m, points)
	if err != nil {
		return nil, err
	}
	out := make([]bool, len(points))
	for i, z := range met {
		above := 0
		for _, v := range z {
			if v > points[i].z {
				above++
			}
		}
		out[i] = above%2 == 1 && len(z)%2 == 0
	}
	return out, nil
}
