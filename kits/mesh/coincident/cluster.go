package coincident

import (
	"cmp"
	"slices"

	"dryfit/kits/mesh"
)

// same is the difference, in mm, up to which two coordinates count as one: more than the
// last digits of a file, less than anything is ever moved by. Ours.
const same = 0.002

// key is the numbers that are alike for meshes in one place, each in mm.
type key func(m *mesh.Mesh) []float64

// shape is alike for meshes of one shape in one place.
func shape(m *mesh.Mesh) []float64 {
	// Volume and area as the thickness of a layer over the box: both in mm.
	size := m.Size()
	around := 2 * (size[0]*size[1] + size[1]*size[2] + size[2]*size[0])
	list := []float64{m.Min[0], m.Min[1], m.Min[2], m.Max[0], m.Max[1], m.Max[2], m.Centre[0], m.Centre[1], m.Centre[2]}
	if around > 0 {
		list = append(list, m.Volume/around, m.Area/around)
	}
	return list
}

// anchors are the points of a box at which programs put the origin of a part: its lowest
// corner, its centre, and the middle of its underside with either axis up.
var anchors = []key{
	func(m *mesh.Mesh) []float64 { return m.Min[:] },
	func(m *mesh.Mesh) []float64 { c := m.Box.Centre(); return c[:] },
	func(m *mesh.Mesh) []float64 { c := m.Box.Centre(); return []float64{c[0], c[1], m.Min[2]} },
	func(m *mesh.Mesh) []float64 { c := m.Box.Centre(); return []float64{c[0], m.Min[1], c[2]} },
}

// clusters groups some meshes by a key, each group and all of them by number.
func clusters(meshes []*mesh.Mesh, which []int, by key) [][]int {
	keys := make(map[int][]float64, len(which))
	length := -1
	for _, p := range which {
		keys[p] = by(meshes[p])
		length = max(length, len(keys[p]))
	}
	groups := [][]int{which}
	for k := range length {
		var finer [][]int
		for _, g := range groups {
			finer = append(finer, split(g, func(p int) float64 {
				if k >= len(keys[p]) {
					return 0
				}
				return keys[p][k]
			})...)
		}
		groups = finer
	}
	for _, g := range groups {
		slices.Sort(g)
	}
	slices.SortFunc(groups, func(a, b []int) int { return cmp.Compare(a[0], b[0]) })
	return groups
}

// split sorts a group by one number, and cuts it wherever that is not the same. Groups of
// one are dropped.
func split(group []int, number func(int) float64) [][]int {
	group = slices.Clone(group)
	slices.SortFunc(group, func(a, b int) int { return cmp.Compare(number(a), number(b)) })
	var list [][]int
	for from := 0; from < len(group); {
		to := from + 1
		for to < len(group) && number(group[to])-number(group[to-1]) <= same {
			to++
		}
		if to-from > 1 {
			list = append(list, group[from:to])
		}
		from = to
	}
	return list
}
