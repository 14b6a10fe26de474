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

// plainer is how much less an axis of the model need press than a slanted direction; ours.
const plainer = 1.5

// wishes lists the directions of a join from the best on: against the largest contact with
// what the piece is fitted to, along an axis of the model rather than not, and then
// against all it touches.
func (d *draft) wishes(i int) []wish {
	j := d.joins[i]
	if j.close {
		return nil
	}
	n := d.beside(j.p, j.q)
	if n == nil {
		return nil
	}
	inTheWay, directions := d.measured.InTheWay, d.measured.Directions
	var list []wish
	for leaving, out := range directions {
		if slices.Contains(inTheWay[leaving][j.p], int32(j.q)) {
			continue
		}
		w := wish{i, out.Opposite(), 0}
		w.weight = n.pressed(w.toward)
		for k := range d.near[j.p] {
			w.weight += aside * d.near[j.p][k].pressed(w.toward)
		}
		if onAxis(w.toward) {
			w.weight *= plainer
		}
		list = append(list, w)
	}
	slices.SortStableFunc(list, func(a, b wish) int { return cmp.Compare(b.weight, a.weight) })
	return list[:min(len(list), maxWishes)]
}

const (
	aside     = 0.05 // what contact with other pieces counts
	maxWishes = 6    // directions tried for one join
)

func onAxis(v geom.Vec) bool {
	return max(v[0], v[1], v[2], -v[0], -v[1], -v[2]) > 0.9999
}
