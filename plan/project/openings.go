package project

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/blocking"
)

// openingFindings compares the openings that the kit states with the meshes.
func (s *Survey) openingFindings(ctx context.Context) ([]plan.Finding, error) {
	k := s.kit
	var list []plan.Finding
	for _, space := range k.Spaces {
		for _, c := range space.ClosedBy {
			if c.Piece < 0 || c.Opening == nil || c.Opening.Facing == "" || !s.Measured(c.Piece) {
				continue
			}
			axis := strings.Index("xyz", c.Opening.Facing)
			got, known, err := Opening(ctx, k, s.Model, nil, space, &c, axis, [2]float64{c.Opening.W, c.Opening.H})
			if err != nil {
				return nil, err
			}
			if !known || got.Fits {
				continue
			}
			id := k.Pieces[c.Piece].ID
			text := fmt.Sprintf("with %s off, the meshes leave at most %s open into %s, but the kit says %s",
				id, rectangle(got.W, got.H, k.Unit), space.ID, rectangle(c.Opening.W, c.Opening.H, k.Unit))
			list = append(list, plan.NewFinding(plan.Meshes, plan.Fault, text).About(id).Since("opening of "+id, c.Opening.Pos))
		}
	}
	return list, nil
}

func rectangle(w, h float64, unit kits.Unit) string {
	return fmt.Sprintf("%s x %s %s", english.Number(w/unit.MM, 2), english.Number(h/unit.MM, 2), unit.Name)
}

// Opening measures what a closer of a space leaves open while it is off, along an axis of
// the model; want is a rectangle to look for, in mm. The numbers are those of the model for
// each piece of the kit, nil if they are the same. known is false for a space of which
// nothing says where it is.
func Opening(ctx context.Context, k *kits.Kit, model *blocking.Model, number []int, space *kits.Space, c *kits.Closer, axis int, want [2]float64) (got blocking.Opening, known bool, err error) {
	o := &opened{k, model, number}
	inside, known := o.inside(space, c.Piece, axis)
	if !known {
		return got, false, nil
	}
	got, err = model.Opening(ctx, o.of(c.Piece), axis, inside, o.walls(c.Piece), want)
	return got, true, err
}

// opened is a kit of which a closer is off.
type opened struct {
	kit    *kits.Kit
	model  *blocking.Model
	number []int
}

// of is the number of a piece of the kit in the model.
func (o *opened) of(p int) int {
	if o.number == nil {
		return p
	}
	return o.number[p]
}

// inside is a position within a space along an axis: the middle of what it holds,
// without what sits on the closer itself.
func (o *opened) inside(space *kits.Space, closer, axis int) (float64, bool) {
	sum, n := 0.0, 0
	for _, h := range space.Holds {
		m := o.model.Pieces[o.of(h.Piece)]
		if m.Len() == 0 || hangsOn(o.kit, h.Piece, closer) {
			continue
		}
		sum += (m.Min[axis] + m.Max[axis]) / 2
		n++
	}
	return sum / float64(max(n, 1)), n > 0
}

// walls are the pieces that stay when one is taken off, without what is in a
// space and what sits on it.
func (o *opened) walls(closer int) []int {
	loose := []int{closer}
	for _, space := range o.kit.Spaces {
		for _, h := range space.Holds {
			loose = append(loose, h.Piece)
		}
	}
	var list []int
	for p := range o.kit.Pieces {
		if o.model.Pieces[o.of(p)].Len() > 0 && !slices.ContainsFunc(loose, func(l int) bool { return hangsOn(o.kit, p, l) }) {
			list = append(list, o.of(p))
		}
	}
	return list
}

// hangsOn reports whether a piece is another, or is fitted to it, directly or
// indirectly.
func hangsOn(k *kits.Kit, p, on int) bool {
	for range k.Pieces {
		if p == on {
			return true
		}
		j := k.Fitted(p)
		if j == nil || len(j.Onto) == 0 {
			return false
		}
		p = j.Onto[0]
	}
	return false
}
