package supports

import (
	"context"
	"math"

	"dryfit/kits/geom"
	"dryfit/plan/queue"
)

// passage is how high, mm, the air must be that leads from one line to the next for
// supports to be taken out through it (ours).
const passage = 2.0

// air is a stretch of a line outside the part, mm above its bottom. The lowest of a
// line begins, and the highest ends, at infinity.
type air struct{ low, high float64 }

// airs are the air of all lines: before each span of a cell, and after the last.
type airs struct {
	g     *columns
	start []int32 // by cell
	list  []air
}

func (g *columns) air() *airs {
	a := &airs{g: g, start: make([]int32, g.Cells()+1), list: make([]air, 0, g.Cells()+len(g.spans))}
	for c := range g.Cells() {
		from := math.Inf(-1)
		for _, s := range g.of(c) {
			a.list = append(a.list, air{from, float64(s.low)})
			from = float64(s.high)
		}
		a.list = append(a.list, air{from, math.Inf(1)})
		a.start[c+1] = int32(len(a.list))
	}
	return a
}

// around calls do with each air beside one, given its cell.
func (a *airs) around(cell, at int, do func(cell, at int)) {
	var room [4]int
	for _, c := range a.g.beside(cell, &room) {
		for k := a.start[c]; k < a.start[c+1]; k++ {
			if min(a.list[at].high, a.list[k].high) > max(a.list[at].low, a.list[k].low) {
				do(c, int(k))
			}
		}
	}
}

// edge reports whether a cell is at the edge of the grid.
func (a *airs) edge(cell int) bool {
	x, y := cell%a.g.NX, cell/a.g.NX
	return x == 0 || y == 0 || x == a.g.NX-1 || y == a.g.NY-1
}

// trapped is the volume of columns in air that no passage leads out of. The error is the
// context's.
func (m *measuring) trapped(ctx context.Context) (float64, error) {
	if m.onPart == 0 {
		return 0, nil
	}
	a := m.air()
	free, err := a.free(ctx)
	if err != nil {
		return 0, err
	}
	cell, sum := m.Pitch*m.Pitch, 0.0
	for c := range m.Cells() {
		for k, s := range m.of(c) {
			if at := int(m.start[c]) + k; k > 0 && s.need && !free[int(a.start[c])+k] && (m.bridged == nil || !m.bridged[at]) {
				sum += cell * float64(s.low-m.of(c)[k-1].high)
			}
		}
	}
	return sum, nil
}

// free marks the air from which there is a way out. Off the bed, a part is open from
// below.
func (a *airs) free(ctx context.Context) ([]bool, error) {
	free := make([]bool, len(a.list))
	type place struct{ cell, at int }
	var open []place
	mark := func(cell, at int) {
		if !free[at] {
			free[at] = true
			open = append(open, place{cell, at})
		}
	}
	for c := range a.g.Cells() {
		mark(c, int(a.start[c]))
		mark(c, int(a.start[c+1])-1)
		for k := a.start[c]; a.edge(c) && k < a.start[c+1]; k++ {
			mark(c, int(k))
		}
	}
	for len(open) > 0 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		p := open[len(open)-1]
		open = open[:len(open)-1]
		a.around(p.cell, p.at, func(cell, at int) {
			if min(a.list[p.at].high, a.list[at].high)-max(a.list[p.at].low, a.list[at].low) >= passage {
				mark(cell, at)
			}
		})
	}
	return free, nil
}

// closer is how far apart lines stand, as a share of the wall.
const closer = 0.6

// Pockets measures the pockets of a part at a turn. wall is about how thick its walls
// are, mm: the lines stand closer together than that, so that air does not leak
// through a wall between them, unless that takes more than some 140 x 140 lines. The
// error is one of reading the surface or of the context.
func (p *Part) Pockets(ctx context.Context, t Turn, box geom.Box, wall float64) (Pockets, error) {
	if err := p.weld(ctx); err != nil {
		return Pockets{}, err
	}
	size, g := box.Size(), p.lines()
	across := math.Sqrt(size[0]*size[1]) / (max(wall, 1e-3) * closer)
	g.lay(size[0], size[1], int(min(max(across, cellsAcross/2), cellsAcross*5/2)))
	err := p.cross(ctx, &t, box, g)
	if err != nil {
		return Pockets{}, err
	}
	a := g.air()
	var out Pockets
	if out.Down, err = a.pocket(ctx); err != nil {
		return Pockets{}, err
	}
	for i, s := range a.list {
		a.list[i] = air{-s.high, -s.low}
	}
	out.Up, err = a.pocket(ctx)
	return out, err
}

// way is a way from outside into an air; top is the lowest level on it, mm.
type way struct {
	cell, at int
	top      float64
}

// pocket is the volume of air that is open only from below: that of which no way
// leads out that never goes down. It is what the part would hold as a cup, upside
// down. Sealed air is none of it. Ways are followed from outside, the one that
// stays highest first. The error is the context's.
func (a *airs) pocket(ctx context.Context) (float64, error) {
	top := make([]float64, len(a.list))
	for i := range top {
		top[i] = math.Inf(-1)
	}
	q := queue.New(func(a, b way) bool { return a.top > b.top })
	reach := func(cell, at int, from float64) {
		if t := min(from, a.list[at].high); t > top[at] {
			top[at] = t
			q.Push(way{cell, at, t})
		}
	}
	for c := range a.g.Cells() {
		for k := a.start[c]; k < a.start[c+1]; k++ {
			if a.edge(c) || math.IsInf(a.list[k].high, 1) {
				reach(c, int(k), math.Inf(1))
			}
		}
	}
	for !q.Empty() {
		if err := ctx.Err(); err != nil {
			return 0, err
		}
		w := q.Pop()
		if w.top < top[w.at] {
			continue
		}
		a.around(w.cell, w.at, func(cell, at int) {
			reach(cell, at, w.top)
		})
	}
	sum := 0.0
	for i, s := range a.list {
		if !math.IsInf(top[i], 0) && s.high > max(s.low, top[i]) {
			sum += s.high - max(s.low, top[i])
		}
	}
	return sum * a.g.Pitch * a.g.Pitch, nil
}
