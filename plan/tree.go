package plan

import "slices"

// tree is the tree that the joins form over the pieces, or a forest if something
// is loose. Each edge belongs to a step.
type tree struct {
	parent []int32 // -1 for the root of a component
	step   []int32 // step that joins the piece to its parent
	depth  []int32
	comp   []int32 // component, numbered from 0 in the order of the pieces
	comps  int
	next   [][]edge // piece -> its edges
	order  []int32  // the pieces, each after its parent
	paths  map[[2]int32][]int32
}

// edge joins pieces a and b in a step.
type edge struct{ a, b, step int32 }

func newTree(pieces int, edges []edge) *tree {
	t := &tree{
		parent: fill[int32](pieces), step: fill[int32](pieces), depth: make([]int32, pieces),
		comp: fill[int32](pieces), next: make([][]edge, pieces), paths: map[[2]int32][]int32{},
	}
	for _, e := range edges {
		t.next[e.a] = append(t.next[e.a], e)
		t.next[e.b] = append(t.next[e.b], edge{e.b, e.a, e.step})
	}
	for p := range int32(pieces) {
		if t.comp[p] >= 0 {
			continue
		}
		t.comp[p] = int32(t.comps)
		queue := []int32{p}
		for len(queue) > 0 {
			at := queue[0]
			queue = queue[1:]
			t.order = append(t.order, at)
			for _, e := range t.next[at] {
				if t.comp[e.b] < 0 {
					t.comp[e.b], t.parent[e.b], t.step[e.b] = t.comp[at], at, e.step
					t.depth[e.b] = t.depth[at] + 1
					queue = append(queue, e.b)
				}
			}
		}
		t.comps++
	}
	return t
}

// fill makes a list of n values of -1.
func fill[T int | int32](n int) []T {
	list := make([]T, n)
	for i := range list {
		list[i] = -1
	}
	return list
}

// tied reports whether joins tie the two pieces together.
func (t *tree) tied(a, b int) bool { return t.comp[a] == t.comp[b] }

// path lists the steps on the path between two tied pieces, each once.
func (t *tree) path(a, b int) []int32 {
	key := [2]int32{int32(a), int32(b)}
	p, known := t.paths[key]
	if !known {
		p = t.walk(a, b)
		t.paths[key] = p
	}
	return p
}

// Tied reports whether joins tie two pieces together.
func (r *Constraints) Tied(a, b int) bool { return r.tree.tied(a, b) }

// Path lists the joins on the tree path between two tied pieces, each once.
func (r *Constraints) Path(a, b int) []int32 { return r.tree.path(a, b) }

// Groups lists the pieces of each group that joins tie together, by their first piece.
func (r *Constraints) Groups() [][]int {
	groups := make([][]int, r.tree.comps)
	for p := range r.Kit.Pieces {
		groups[r.tree.comp[p]] = append(groups[r.tree.comp[p]], p)
	}
	return groups
}

// Neighbours lists what a piece is joined to directly.
func (r *Constraints) Neighbours(p int) []int {
	var list []int
	for _, e := range r.tree.next[p] {
		list = append(list, int(e.b))
	}
	slices.Sort(list)
	return list
}

// walk is path without the cache.
func (t *tree) walk(a, b int) []int32 {
	// Both ends climb to where they meet. Two copies fitted in one step meet at what
	// they are fitted to, by two edges of the same step: it is listed once.
	var list []int32
	at, last := [2]int32{int32(a), int32(b)}, [2]int32{-1, -1}
	for at[0] != at[1] {
		side := 0
		if t.depth[at[0]] < t.depth[at[1]] {
			side = 1
		}
		s := t.step[at[side]]
		if s != last[1-side] {
			list = append(list, s)
		}
		last[side], at[side] = s, t.parent[at[side]]
	}
	return list
}
