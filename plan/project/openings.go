package project

import (
	"context"
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

var axisNumber = map[string]int{"x": 0, "y": 1, "z": 2}

// openingFindings holds the openings that the kit states against the meshes.
func (s *Survey) openingFindings(ctx context.Context, k *kits.Kit) ([]plan.Finding, error) {
	var list []plan.Finding
	for _, space := range k.Spaces {
		for _, c := range space.ClosedBy {
			if c.Piece < 0 || c.Opening == nil || c.Opening.Facing == "" || s.Pieces[c.Piece].Len() == 0 {
				continue
			}
			axis := axisNumber[c.Opening.Facing]
			inside, known := s.inside(k, space, c.Piece, axis)
			if !known {
				continue
			}
			got, err := s.Model.Opening(ctx, c.Piece, axis, inside, s.walls(k, c.Piece), [2]float64{c.Opening.W, c.Opening.H})
			if err != nil {
				return nil, err
			}
			if got.Fits {
				continue
			}
			id := k.Pieces[c.Piece].ID
			list = append(list, plan.Finding{Kind: plan.Meshes, Grade: plan.Fault, Piece: id,
				Text: fmt.Sprintf("with %s off the meshes leave %s open into %s at the most, and the kit says %s",
					id, rectangle(got.W, got.H, k.Unit), space.ID, rectangle(c.Opening.W, c.Opening.H, k.Unit)),
				Because: []plan.Reason{{Text: "opening of " + id, At: c.Opening.Pos.String()}}})
		}
	}
	return list, nil
}

func rectangle(w, h float64, unit kits.Unit) string {
	return fmt.Sprintf("%s x %s %s", trim(w/unit.MM), trim(h/unit.MM), unit.Name)
}

// inside is a place within a space along an axis: the middle of what it holds, less
// what sits on the closer itself.
func (s *Survey) inside(k *kits.Kit, space *kits.Space, closer, axis int) (float64, bool) {
	sum, n := 0.0, 0
	for _, h := range space.Holds {
		m := s.Pieces[h.Piece]
		if m.Len() == 0 || hangsOn(k, h.Piece, closer) {
			continue
		}
		sum += (m.Min[axis] + m.Max[axis]) / 2
		n++
	}
	return sum / float64(max(n, 1)), n > 0
}

// walls are the pieces that stay when one is taken off, without what is in any space
// and what sits on that.
func (s *Survey) walls(k *kits.Kit, closer int) []int {
	loose := []int{closer}
	for _, space := range k.Spaces {
		for _, h := range space.Holds {
			loose = append(loose, h.Piece)
		}
	}
	var list []int
	for p, m := range s.Pieces {
		if m.Len() > 0 && !slices.ContainsFunc(loose, func(o int) bool { return hangsOn(k, p, o) }) {
			list = append(list, p)
		}
	}
	return list
}

// hangsOn reports whether a piece is another, or is fitted to it or to what is.
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
