package supports

import (
	"math"
	"slices"

	"dryfit/kits/geom"
	"dryfit/plan/printing/raster"
)

// columns are sample lines that stand on a grid over the shadow of a part, and
// where they meet its surface.
type columns struct {
	raster.Grid
	met     []crossing
	start   []int32 // by cell, of its crossings; later of its spans
	spans   []span
	ordered []crossing
	inner   []crossing // through faces that face down inside, or rest on, another solid of the part; by cell
	first   []int32    // by cell, of those
	count   []int32    // scratch of sort
	next    []int32
}

// crossing is where a line meets the surface. A line that enters the part does so
// through a face that faces down.
type crossing struct {
	cell   int32
	z      float32 // mm above the bottom of the part
	leaves bool
	need   bool // the face needs support
	flat   bool // it is an underside nearly parallel with the bed
}

// span is a stretch of a line inside the part, mm above its bottom.
type span struct {
	low, high  float32
	need, flat bool // of the face that it begins at
}

// cellsAcross squared is the number of cells. With more crossings than maxMet the
// grid is made coarser, and at the coarsest the rest of them is not read.
const (
	cellsAcross = 56
	maxMet      = 8_000_000
	coarsest    = 5
)

// lay lays a grid over a box of the given size.
func (g *columns) lay(w, d float64, across int) {
	g.Grid = raster.Over(w, d, max(math.Sqrt(w*d)/float64(across), max(w, d)/float64(20*across), 1e-3))
	g.met = g.met[:0]
}

// add adds the crossings of a triangle.
func (g *columns) add(c *[3]geom.Vec, like crossing) {
	g.Triangle(c, func(cell int, z float64) {
		like.cell, like.z = int32(cell), float32(z)
		g.met = append(g.met, like)
	})
}

// touching is how close, mm, two solids of a part must be to print as one.
const touching = 0.02

// sort turns the crossings into spans, from the bottom up. A stretch inside two
// solids that overlap counts once.
func (g *columns) sort() {
	g.count = append(g.count[:0], make([]int32, g.Cells()+1)...)
	count := g.count
	for i := range g.met {
		count[g.met[i].cell+1]++
	}
	for i := 1; i < len(count); i++ {
		count[i] += count[i-1]
	}
	g.next = append(g.next[:0], count...)
	next := g.next
	g.ordered = slices.Grow(g.ordered[:0], len(g.met))[:len(g.met)]
	for _, m := range g.met {
		g.ordered[next[m.cell]] = m
		next[m.cell]++
	}
	g.start = append(g.start[:0], make([]int32, g.Cells()+1)...)
	g.first = append(g.first[:0], make([]int32, g.Cells()+1)...)
	g.spans, g.inner = g.spans[:0], g.inner[:0]
	for cell := range g.Cells() {
		list := g.ordered[count[cell]:count[cell+1]]
		order(list)
		g.inside(list, len(g.spans))
		g.start[cell+1], g.first[cell+1] = int32(len(g.spans)), int32(len(g.inner))
	}
}

// order sorts the crossings of a line from the bottom up; at one height, those that
// enter come first. There are few of them as a rule.
func order(list []crossing) {
	before := func(a, b *crossing) bool { return a.z < b.z || a.z == b.z && !a.leaves && b.leaves }
	if len(list) > 30 {
		slices.SortFunc(list, func(a, b crossing) int {
			switch {
			case before(&a, &b):
				return -1
			case before(&b, &a):
				return 1
			}
			return 0
		})
		return
	}
	for i := 1; i < len(list); i++ {
		for k := i; k > 0 && before(&list[k], &list[k-1]); k-- {
			list[k], list[k-1] = list[k-1], list[k]
		}
	}
}

// inside adds the spans of one line.
func (g *columns) inside(list []crossing, first int) {
	depth := 0
	for _, m := range list {
		switch {
		case m.leaves && depth > 0:
			if depth--; depth == 0 {
				g.spans[len(g.spans)-1].high = m.z
			}
		case !m.leaves:
			depth++
			if n := len(g.spans); depth > 1 || n > first && m.z-g.spans[n-1].high < touching {
				g.inner = append(g.inner, m)
			} else {
				g.spans = append(g.spans, span{m.z, m.z, m.need, m.flat})
			}
		}
	}
}

// of lists the spans of a cell.
func (g *columns) of(cell int) []span { return g.spans[g.start[cell]:g.start[cell+1]] }

// solid reports whether a height is inside the part.
func (g *columns) solid(cell int, z float32) bool {
	for _, s := range g.of(cell) {
		if z >= s.low && z <= s.high {
			return true
		}
	}
	return false
}
