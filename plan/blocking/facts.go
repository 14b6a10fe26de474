package blocking

import (
	"context"
	"math"
	"slices"

	"dryfit/kits/geom"
)

// InTheWay lists for each direction and piece the pieces that keep it from leaving,
// with clashes set aside.
func (m *Model) InTheWay() [][][]int32 {
	var out [][][]int32
	for i := range m.axes {
		for _, g := range m.graphs(&m.axes[i], false) {
			list := make([][]int32, len(m.Pieces))
			for p := range list {
				list[p] = slices.Clone(g.blockers(int32(p)))
				slices.Sort(list[p])
			}
			out = append(out, list)
		}
	}
	return out
}

// Distance is how far, in mm, a piece can leave along a direction before it meets
// another; infinite if it does not, or if the meshes cannot be read again.
func (m *Model) Distance(piece, other, direction int) float64 {
	leg := geom.Leg{Toward: m.Directions[direction], Distance: math.Inf(1)}
	box := m.box([]int{piece, other})
	free := func(d float64) bool {
		leg.Distance = d
		hits, err := m.sweep(context.Background(), piece, []int{other}, geom.Vec{}, leg)
		return err != nil || len(hits) == 0
	}
	far := box.Size().Length()
	if free(math.Inf(1)) {
		return math.Inf(1)
	}
	near := 0.0
	for far-near > m.Pitch/4 {
		middle := (near + far) / 2
		if free(middle) {
			near = middle
		} else {
			far = middle
		}
	}
	return near
}

// Legs looks for a way of several legs for a piece out of others, and lists the
// pieces of the model, beside those, that are in the way of it. It returns nil when
// it finds none.
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
