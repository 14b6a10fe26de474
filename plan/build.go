package plan

import "slices"

// Build is a group that is assembled on its own: the main build, or a sub-build
// that is finished on the bench before it meets the rest.
type Build struct {
	Letter string // A, B, C in starting order; "main" for the main build
	Base   int    // the piece it is built on; -1 for the main build of a kit without pieces
	Join   int    // the step that joins it to its parent; -1 for the main build
	Parent int    // index of the build it is joined to; -1 for the main build

	depth int
}

// builds finds the sub-builds of a kit and the build each step belongs to. It does
// not depend on the order of the steps. The first build is the main one.
//
// A bench join makes a sub-build of what sits on its moving piece; a closing
// turns the smaller side's group into one. A step that can only be done once the
// sub-build is on the model belongs to what the sub-build is joined to.
type builds struct {
	r     *Constraints
	list  []Build
	of    []int       // step -> build
	unit  map[int]int // bench piece or base -> build
	bases []int       // base of each piece's group of fits
}

func (r *Constraints) findBuilds() *builds {
	b := &builds{r: r, of: make([]int, len(r.Steps)), unit: map[int]int{}}
	b.groups()
	b.benches()
	after := b.afterJoins()
	b.lateBuilds(after)
	for v, s := range r.Steps {
		b.of[v] = b.buildOf(v, s, nil)
	}
	b.lateSteps(after)
	return b
}

// groups turns each group of fits into a build: the largest first, then those
// that closings join to it.
func (b *builds) groups() {
	k := b.r.Kit
	b.bases = make([]int, len(k.Pieces))
	size := map[int]int{}
	for p := range k.Pieces {
		b.bases[p] = b.baseOf(p)
		size[b.bases[p]]++
	}
	main := -1
	for p := range k.Pieces {
		if b.bases[p] == p && (main < 0 || size[p] > size[main]) {
			main = p
		}
	}
	if main < 0 { // tasks alone: a main build on nothing
		b.list = append(b.list, Build{Base: -1, Join: -1, Parent: -1})
		return
	}
	b.add(Build{Base: main, Join: -1, Parent: -1})
	for more := true; more; {
		more = false
		for _, j := range k.Joins {
			if !j.IsClose() {
				continue
			}
			x, y := b.bases[j.Pieces[0]], b.bases[j.Pieces[1]]
			if _, known := b.unit[x]; !known {
				x, y = y, x
			}
			_, knownX := b.unit[x]
			if _, knownY := b.unit[y]; knownX && !knownY {
				b.add(Build{Base: y, Join: b.r.number.Join[j], Parent: b.unit[x]})
				more = true
			}
		}
	}
}

// baseOf follows the fits down to the piece that no join fits. Cycles of fits are
// rejected when the file is read.
func (b *builds) baseOf(p int) int {
	for {
		j := b.r.Kit.Fitted(p)
		if j == nil {
			return p
		}
		p = b.r.base(j)
	}
}

func (b *builds) add(build Build) {
	if build.Parent >= 0 {
		build.depth = b.list[build.Parent].depth + 1
	}
	b.unit[build.Base] = len(b.list)
	b.list = append(b.list, build)
}

// benches makes a build of each bench piece, after the build it is joined to.
func (b *builds) benches() {
	for p := range b.r.Kit.Pieces {
		b.bench(p)
	}
	// A closing attaches a group to the bench build its piece belongs to.
	for i := range b.list {
		if j := b.list[i].Join; j >= 0 && b.r.Steps[j].Kind == Close {
			at := b.r.Steps[j].Join.Pieces[0]
			if b.bases[at] == b.list[i].Base {
				at = b.r.Steps[j].Join.Pieces[1]
			}
			b.list[i].Parent = b.home(at)
		}
	}
	b.deepen()
}

// maxNesting bounds how deeply sub-builds nest; anything deeper belongs to the
// build around it.
const maxNesting = 40

// bench returns the build of a bench piece, created if needed, or -1.
func (b *builds) bench(p int) int {
	j := b.r.Kit.Fitted(p)
	if j == nil || !j.Bench {
		return -1
	}
	if u, known := b.unit[p]; known {
		return u
	}
	parent := b.home(b.r.base(j))
	if b.list[parent].depth >= maxNesting {
		b.unit[p] = parent
		return parent
	}
	b.add(Build{Base: p, Join: b.r.number.Join[j], Parent: parent})
	return b.unit[p]
}

// home is the build a piece belongs to: that of the nearest bench piece it sits
// on, or that of its base. Loose pieces belong to the main build.
func (b *builds) home(p int) int {
	for {
		if u := b.bench(p); u >= 0 {
			return u
		}
		j := b.r.Kit.Fitted(p)
		if j == nil {
			return b.unit[p]
		}
		p = b.r.base(j)
	}
}

// chain lists a build and its ancestors, up to the main build.
func (b *builds) chain(u int) []int {
	var list []int
	for ; u >= 0 && len(list) <= len(b.list); u = b.list[u].Parent {
		list = append(list, u)
	}
	return list
}

// within reports whether build u is w or a descendant of w.
func (b *builds) within(u, w int) bool {
	for u >= 0 && b.list[u].depth > b.list[w].depth {
		u = b.list[u].Parent
	}
	return u == w
}

// common is the innermost build that contains both.
func (b *builds) common(u, w int) int {
	for u != w {
		if b.list[u].depth < b.list[w].depth {
			u, w = w, u
		}
		u = b.list[u].Parent
	}
	return u
}

// buildOf is the build in which a step is done. seen guards against tasks that
// name one another.
func (b *builds) buildOf(v int, s Step, seen map[int]bool) int {
	switch s.Kind {
	case Fit:
		return b.home(b.r.base(s.Join))
	case Close:
		return b.common(b.home(s.Join.Pieces[0]), b.home(s.Join.Pieces[1]))
	case Thread:
		u := b.common(b.home(s.Wire.From), b.home(s.Wire.To))
		for _, p := range s.Wire.Through {
			u = b.common(u, b.home(p))
		}
		return u
	}
	if seen == nil {
		seen = map[int]bool{}
	}
	seen[v] = true
	targets := s.Task.After
	if len(targets) == 0 {
		targets = s.Task.Before
	}
	u := -1
	for i := range targets {
		for _, t := range b.r.targetSteps(&targets[i]) {
			if seen[t] {
				continue
			}
			w := b.buildOf(t, b.r.Steps[t], seen)
			if u < 0 {
				u = w
			}
			u = b.common(u, w)
		}
	}
	return max(u, 0)
}

// maxLateWork bounds the work of finding steps that must wait for their sub-build
// to be joined; kits beyond it keep them in the sub-build.
const maxLateWork = 50_000_000

// afterJoins collects for each build the steps that must come after its join. For
// a kit so large that this would take too long it collects none, and they stay in
// the build.
func (b *builds) afterJoins() []map[int]bool {
	after := make([]map[int]bool, len(b.list))
	if len(b.list)*(len(b.r.Steps)+len(b.r.Needs)) > maxLateWork {
		return after
	}
	next := make([][]int, len(b.r.Steps))
	for _, n := range b.r.Needs {
		next[n.Before] = append(next[n.Before], n.After)
	}
	for u := 1; u < len(b.list); u++ {
		after[u] = reachableFrom(next, b.list[u].Join)
	}
	return after
}

// lateBuilds moves a sub-build that is joined only after the build it sits on has
// been joined: it belongs to what that build is joined to.
func (b *builds) lateBuilds(after []map[int]bool) {
	for u := 1; u < len(b.list); u++ {
		for p := b.list[u].Parent; p > 0; p = b.list[p].Parent {
			if after[p][b.list[u].Join] {
				b.list[u].Parent = b.list[p].Parent
			}
		}
	}
	b.deepen()
}

// lateSteps does the same for single steps.
func (b *builds) lateSteps(after []map[int]bool) {
	for v := range b.of {
		for u := b.of[v]; u > 0; u = b.list[u].Parent {
			if after[u][v] {
				b.of[v] = b.list[u].Parent
			}
		}
	}
}

// deepen sets the depth of every build.
func (b *builds) deepen() {
	for i := range b.list {
		b.list[i].depth = len(b.chain(i)) - 1
	}
}

// reachableFrom collects the steps that are reached from a step, by those next to each.
func reachableFrom(next [][]int, from int) map[int]bool {
	seen := map[int]bool{}
	queue := []int{from}
	for len(queue) > 0 {
		v := queue[0]
		queue = queue[1:]
		for _, w := range next[v] {
			if !seen[w] {
				seen[w] = true
				queue = append(queue, w)
			}
		}
	}
	return seen
}

// subBuild reports whether build u has steps of its own, so that it deserves a
// letter.
func (b *builds) subBuild(u int) bool {
	return u > 0 && slices.Contains(b.of, u)
}

// started reports whether build u, or one that is joined to it, has steps.
func (b *builds) started(u int) bool {
	return u > 0 && slices.ContainsFunc(b.of, func(w int) bool { return b.within(w, u) })
}
