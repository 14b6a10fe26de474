package blocking

import (
	"cmp"
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan/blocking/grid"
)

// MaxLegs is the largest number of legs of the ways that are searched for.
const MaxLegs = grid.MaxLegs

const (
	legTries     = 16  // pieces of a stuck group, the smallest
	cellsAcross  = 140 // of the group, at most
	cellsInPiece = 8   // across the smallest side of the piece, if that is not too many
)

// byLegs finds a piece of a stuck group that can leave along several legs.
func (t *disassembler) byLegs(ctx context.Context, group []int32) ([]int32, []geom.Leg, error) {
	list := slices.Clone(group)
	slices.SortFunc(list, func(a, b int32) int {
		return cmp.Or(cmp.Compare(t.room[a], t.room[b]), cmp.Compare(a, b))
	})
	list = list[:min(len(list), legTries)]
	for i, p := range list {
		t.m.tell("looking for ways of several legs", float64(i)/float64(len(list)))
		if t.strict && slices.ContainsFunc(group, func(q int32) bool { return q != p && t.m.clash(p, q) }) {
			continue
		}
		rest := slices.DeleteFunc(slices.Clone(group), func(q int32) bool { return q == p })
		legs, err := t.m.legs(ctx, int(p), ints(rest))
		if err != nil {
			return nil, nil, err
		}
		if legs != nil {
			return []int32{p}, legs, nil
		}
	}
	return nil, nil, nil
}

// legs looks for a way of several legs for a piece out of some others: first on a
// grid of cells, with the piece one cell thinner all round, then along the way
// found, with the real piece. It returns nil if it finds none.
func (m *Model) legs(ctx context.Context, piece int, others []int) ([]geom.Leg, error) {
	frame, err := m.frame(piece, others)
	if err != nil {
		return nil, err
	}
	body, err := m.workers.cells(ctx, frame, m.Pieces, []int{piece})
	if err != nil {
		return nil, err
	}
	rest, err := m.workers.cells(ctx, frame, m.Pieces, others)
	if err != nil {
		return nil, err
	}
	// Ways along the axes of the frame come first: a grid follows them exactly.
	for _, steps := range [][][3]int{grid.Steps()[:6], grid.Steps()} {
		for _, thin := range []*grid.Grid{body, body.Eroded()} {
			if thin.Count() == 0 {
				continue
			}
			obstacles := rest.Clone()
			obstacles.Remove(thin) // what it touches or overlaps in its seat does not hold it
			way := grid.Out(ctx, thin, obstacles, steps)
			if err := ctx.Err(); err != nil {
				return nil, err
			}
			if way == nil {
				continue
			}
			legs, err := m.follow(ctx, piece, others, frame, way)
			if err != nil || legs != nil {
				return legs, err
			}
		}
	}
	return nil, nil
}

// frame is a view along axes that the pieces' own shapes suggest.
func (m *Model) frame(piece int, others []int) (*view, error) {
	all := append([]int{piece}, others...)
	own, err := ownAxes(m.Pieces, all, ownShare, maxOwnAxes)
	if err != nil {
		return nil, err
	}
	w := geom.Vec{1, 0, 0}
	if len(own) > 0 {
		w = own[0]
	}
	u, v := across(w)
	for _, d := range own {
		if math.Abs(d.Dot(w)) < 1e-4 {
			u = d.Minus(w.Times(d.Dot(w))).Unit()
			v = w.Cross(u).Unit()
			break
		}
	}
	box, err := m.extents(all, u, v, w)
	if err != nil {
		return nil, err
	}
	body, err := m.extents([]int{piece}, u, v, w)
	if err != nil {
		return nil, err
	}
	size, bodySize := box.Size(), body.Size()
	wide, thin := slices.Max(size[:]), slices.Min(bodySize[:])
	return viewOf(u, v, w, max(thin/cellsInPiece, wide/cellsAcross), box), nil
}

// extents is how far pieces reach along three directions, in mm.
func (m *Model) extents(which []int, u, v, w geom.Vec) (geom.Box, error) {
	box := geom.Nothing()
	for _, p := range which {
		err := m.Pieces[p].Blocks(func(_ int, block []mesh.Triangle) error {
			for i := range block {
				for _, c := range block[i] {
					at := geom.Point(c)
					box = box.With(geom.Vec{at.Dot(u), at.Dot(v), at.Dot(w)})
				}
			}
			return nil
		})
		if err != nil {
			return box, err
		}
	}
	return box, nil
}

// follow turns a way on the grid into legs, each checked with the meshes. Each
// leg's length is the one nearest to the grid's for which the next leg is free
// too.
func (m *Model) follow(ctx context.Context, piece int, others []int, frame *view, way []grid.Leg) ([]geom.Leg, error) {
	var legs []geom.Leg
	var offset geom.Vec
	for i, s := range way {
		leg := geom.Leg{Toward: frame.direction(s.Step), Distance: math.Inf(1)}
		if i == len(way)-1 {
			hits, err := m.sweep(ctx, piece, others, offset, leg)
			if err != nil || len(hits) > 0 {
				return nil, err
			}
			return append(legs, leg), nil
		}
		next := way[i+1]
		long := float64(s.Times) * frame.length(s.Step)
		found := false
		for _, d := range m.around(long, frame.pitch) {
			leg.Distance = d
			to := offset.Plus(leg.Toward.Times(d))
			after := geom.Leg{Toward: frame.direction(next.Step), Distance: math.Inf(1)}
			if i+2 < len(way) {
				after.Distance = max(float64(next.Times)*frame.length(next.Step)-frame.pitch, 0)
			}
			free, err := m.free(ctx, piece, others, offset, leg, to, after)
			if err != nil {
				return nil, err
			}
			if free {
				legs, offset, found = append(legs, leg), to, true
				break
			}
		}
		if !found {
			return nil, nil
		}
	}
	return nil, nil
}

// free reports whether two consecutive legs are free.
func (m *Model) free(ctx context.Context, piece int, others []int, at geom.Vec, leg geom.Leg, to geom.Vec, next geom.Leg) (bool, error) {
	hits, err := m.sweep(ctx, piece, others, at, leg)
	if err != nil || len(hits) > 0 {
		return false, err
	}
	hits, err = m.sweep(ctx, piece, others, to, next)
	return len(hits) == 0, err
}

// around lists lengths around a length, the nearest first, half a pitch apart, up
// to a cell and a half away.
func (m *Model) around(long, cell float64) []float64 {
	list := []float64{long}
	for d := m.Pitch / 2; d <= cell*1.5; d += m.Pitch / 2 {
		list = append(list, long-d, long+d)
	}
	return slices.DeleteFunc(list, func(d float64) bool { return d <= 0 })
}

// direction is the direction of a step of the grid.
func (v *view) direction(s [3]int) geom.Vec {
	d := v.u.Times(float64(s[0]))
	d = d.Plus(v.v.Times(float64(s[1])))
	return d.Plus(v.w.Times(float64(s[2]))).Unit()
}

// length is the length of a step of the grid, in mm.
func (v *view) length(s [3]int) float64 {
	return v.pitch * math.Sqrt(float64(s[0]*s[0]+s[1]*s[1]+s[2]*s[2]))
}

// cells is how a set of pieces fills a grid whose cells are as wide as the pitch
// of the view. Depth is counted in cells from the view's first depth.
func (c *workers) cells(ctx context.Context, v *view, pieces []*mesh.Mesh, which []int) (*grid.Grid, error) {
	g := grid.New([3]int{v.cols, v.rows, int(v.step*depthCode/v.pitch) + 1})
	// The middle of cell k lies at depth (k + a half) pitches.
	cell := func(code uint32) int { return int(math.Ceil(float64(code)*v.step/v.pitch - 0.5)) }
	err := c.lines(ctx, v, area{0, 0, v.cols, v.rows}, pieces, which, func(x, y int, col *column) {
		for _, st := range col.stretches {
			g.Fill(x, y, cell(st.enter), cell(st.leave))
		}
	})
	return g, err
}

// Legs looks for a way of several legs for a piece out of others, and lists the
// other pieces of the model that block it. It returns nil if it finds none.
func (m *Model) Legs(ctx context.Context, piece int, others []int) ([]geom.Leg, []int, error) {
	legs, err := m.legs(ctx, piece, others)
	if err != nil || legs == nil {
		return nil, nil, err
	}
	var rest, hits []int
	for _, p := range m.all() {
		if p != piece && !slices.Contains(others, p) {
			rest = append(rest, p)
		}
	}
	var offset geom.Vec
	for _, leg := range legs {
		found, err := m.sweep(ctx, piece, rest, offset, leg)
		if err != nil {
			return nil, nil, err
		}
		hits = append(hits, found...)
		if !math.IsInf(leg.Distance, 1) {
			offset = offset.Plus(leg.Toward.Times(leg.Distance))
		}
	}
	slices.Sort(hits)
	return legs, slices.Compact(hits), nil
}
