package coincident

import (
	"cmp"
	"context"
	"slices"

	"dryfit/kits/mesh"
)

const (
	maxTried = 48 // meshes of a group that are compared solid by solid; more are sampled evenly

	// Meshes of different shapes are in one place only if they overlap all over: things
	// in a hull that is solid by mistake all overlap that, but not each other. Ours.
	fewest    = 5   // meshes of different shapes
	leastMet  = 3   // others that half of the meshes overlap, at least
	leastPart = 0.1 // of the others
)

// Find lists the groups of meshes that stand in the same place, by their numbers, the
// largest group first. Meshes without triangles are in none. The error comes from reading
// a mesh, or is that of the context.
func Find(ctx context.Context, meshes []*mesh.Mesh) ([][]int, error) {
	f := &finder{ctx: ctx, meshes: meshes, taken: make([]bool, len(meshes))}
	if err := f.copies(); err != nil {
		return nil, err
	}
	copies := f.groups
	// A pile of different shapes takes the copies in it along.
	f.groups, f.taken = nil, make([]bool, len(meshes))
	if err := f.piles(); err != nil {
		return nil, err
	}
	for _, g := range copies {
		left := slices.DeleteFunc(g, func(p int) bool { return f.taken[p] })
		if len(left) > 1 {
			f.groups = append(f.groups, left)
		}
	}
	slices.SortStableFunc(f.groups, func(a, b []int) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a[0], b[0]))
	})
	return f.groups, nil
}

type finder struct {
	ctx    context.Context
	meshes []*mesh.Mesh
	taken  []bool // they are in a group
	groups [][]int
}

// copies finds meshes of one shape in one place.
func (f *finder) copies() error {
	for _, g := range clusters(f.meshes, f.free(), shape) {
		if len(g) < 2 {
			continue
		}
		tried := sample(g)
		if equal, err := f.equal(tried); err != nil {
			return err
		} else if equal {
			f.take(g)
			continue
		}
		overlaps, err := compare(f.ctx, f.meshes, tried)
		if err != nil {
			return err
		}
		// Of one shape in one box, those that overlap the first by half.
		if n := overlaps.with(0); n == len(overlaps)-1 {
			f.take(g)
		} else if n > 0 && len(g) == len(overlaps) {
			f.take(overlaps.beside(0, g))
		}
	}
	return nil
}

// equal reports whether some meshes have the same triangles, which says that they are in
// one place even if they are not closed. Of large meshes only the first triangles count.
func (f *finder) equal(which []int) (bool, error) {
	first, other := make([]mesh.Triangle, mesh.BlockSize), make([]mesh.Triangle, mesh.BlockSize)
	n, err := f.meshes[which[0]].Read(0, first)
	if err != nil {
		return false, err
	}
	for _, p := range which[1:] {
		if k, err := f.meshes[p].Read(0, other); err != nil || !slices.Equal(first[:n], other[:k]) {
			return false, err
		}
	}
	return true, f.ctx.Err()
}

// piles finds meshes of any shapes whose boxes share an anchor. Larger piles come first:
// copies share all anchors.
func (f *finder) piles() error {
	var list [][]int
	for _, anchor := range anchors {
		list = append(list, clusters(f.meshes, f.free(), anchor)...)
	}
	slices.SortStableFunc(list, func(a, b []int) int { return cmp.Compare(len(b), len(a)) })
	for _, g := range list {
		g = slices.DeleteFunc(g, func(p int) bool { return f.taken[p] })
		if len(g) < fewest {
			continue
		}
		overlaps, err := compare(f.ctx, f.meshes, sample(g))
		if err != nil {
			return err
		}
		n := len(overlaps)
		if overlaps.median() >= max(leastMet, int(leastPart*float64(n-1))) {
			f.take(g)
		}
	}
	return nil
}

// free lists the meshes that are in no group yet.
func (f *finder) free() []int {
	var list []int
	for i, m := range f.meshes {
		if m.Len() > 0 && !f.taken[i] {
			list = append(list, i)
		}
	}
	return list
}

func (f *finder) take(group []int) {
	slices.Sort(group)
	for _, p := range group {
		f.taken[p] = true
	}
	f.groups = append(f.groups, group)
}

// sample picks members of a group evenly.
func sample(group []int) []int {
	if len(group) <= maxTried {
		return group
	}
	list := make([]int, maxTried)
	for i := range list {
		list[i] = group[i*len(group)/maxTried]
	}
	return list
}
