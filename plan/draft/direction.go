package draft

import (
	"cmp"
	"context"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// wish is a direction of travel that a person would say for a join.
type wish struct {
	join   int
	toward geom.Vec
	weight float64
}

// chooseDirections gives each join the direction that a person would say, as far as there
// is an order with it: first those that matter most.
func (d *draft) chooseDirections(ctx context.Context, k *kits.Kit) error {
	var list []wish
	others := make([][]wish, len(d.joins))
	for i := range d.joins {
		wishes := d.wishes(i)
		if len(wishes) > 0 {
			list = append(list, wishes[0])
			others[i] = wishes[1:]
		}
	}
	for len(list) > 0 {
		slices.SortStableFunc(list, func(a, b wish) int { return cmp.Compare(b.weight, a.weight) })
		refused, err := d.grant(ctx, k, list)
		if err != nil {
			return err
		}
		list = nil
		for _, w := range refused {
			if more := others[w.join]; len(more) > 0 {
				list = append(list, more[0])
				others[w.join] = more[1:]
			}
		}
	}
	return nil
}

// grant states the directions of a list, but for those without which there is an order,
// and none with. It halves the list to find them.
func (d *draft) grant(ctx context.Context, k *kits.Kit, list []wish) (refused []wish, err error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for _, w := range list {
		toward := [3]float64(w.toward)
		k.Joins[w.join].Toward = &toward
		d.joins[w.join].toward = &w.toward
	}
	_, sound, err := d.solve(k)
	if err != nil || sound {
		return nil, err
	}
	for _, w := range list {
		k.Joins[w.join].Toward, d.joins[w.join].toward = nil, nil
	}
	if len(list) == 1 {
		return list, nil
	}
	for _, half := range [][]wish{list[:len(list)/2], list[len(list)/2:]} {
		more, err := d.grant(ctx, k, half)
		if err != nil {
			return nil, err
		}
		refused = append(refused, more...)
	}
	return refused, nil
}

// wishes lists the directions of a join, from the best on: those in which it is free of
// what it is fitted to.
func (d *draft) wishes(i int) []wish {
	j := d.joins[i]
	n := d.beside(j.p, j.q)
	if j.close || n == nil {
		return nil
	}
	var list []wish
	rank := map[geom.Vec]int{}
	for leaving, out := range d.measured.Directions {
		if slices.Contains(d.measured.InTheWay[leaving][j.p], int32(j.q)) {
			continue
		}
		w := wish{i, out.Opposite(), n.pressed(out.Opposite())}
		rank[w.toward] = d.rankOf(j, n, w)
		for k := range d.near[j.p] {
			w.weight += aside * d.near[j.p][k].pressed(w.toward)
		}
		list = append(list, w)
	}
	slices.SortStableFunc(list, func(a, b wish) int {
		return cmp.Or(cmp.Compare(rank[a.toward], rank[b.toward]), cmp.Compare(b.weight, a.weight))
	})
	return list[:min(len(list), maxWishes)]
}

const (
	aside     = 0.05 // what contact with other pieces counts; ours
	rests     = 0.05 // of what two pieces touch that must stop a piece for it to rest there; ours
	maxWishes = 6    // directions tried for one join
)

// rankOf is the rank of a direction. What goes into a half shell is laid into it, as that
// lies on its back; else a piece is pressed against what it is fitted to, along an axis of
// the model rather than not.
func (d *draft) rankOf(j join, n *neighbour, w wish) int {
	stops := w.weight > rests*n.area
	switch {
	case d.laidInto(j, w.toward):
		return 0
	case stops && onAxis(w.toward):
		return 1
	case stops:
		return 2
	case onAxis(w.toward):
		return 3
	}
	return 4
}

// laidInto reports whether a direction is into the half of a shell that a piece is fitted
// to, across the plane where the halves meet.
func (d *draft) laidInto(j join, toward geom.Vec) bool {
	b := &d.base
	if b.half < 0 || !d.wall[j.q] || d.closes[j.p] || d.free[j.p] || !onAxis(toward) {
		return false
	}
	out := d.middle(j.q)[b.axis] - d.plane(b)
	return toward[b.axis]*out > 0
}

func onAxis(v geom.Vec) bool {
	return max(v[0], v[1], v[2], -v[0], -v[1], -v[2]) > 0.9999
}
