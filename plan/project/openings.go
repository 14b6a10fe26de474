package project

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
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
			inside, known := s.inside(space, c.Piece, axis)
			if !known {
				continue
			}
			got, err := s.Model.Opening(ctx, c.Piece, axis, inside, s.walls(c.Piece), [2]float64{c.Opening.W, c.Opening.H})
			if err != nil {
				return nil, err
			}
			if got.Fits {
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

// inside is a position within a space along an axis: the middle of what it holds,
// without what sits on the closer itself.
func (s *Survey) inside(space *kits.Space, closer, axis int) (float64, bool) {
	sum, n := 0.0, 0
	for _, h := range space.Holds {
		m := s.Pieces[h.Piece]
		if !s.Measured(h.Piece) || hangsOn(s.kit, h.Piece, closer) {
			continue
		}
		sum += (m.Min[axis] + m.Max[axis]) / 2
		n++
	}
	return sum / float64(max(n, 1)), n > 0
}

// walls are the pieces that stay when one is taken off, without what is in a
// space and what sits on it.
func (s *Survey) walls(closer int) []int {
	loose := []int{closer}
	for _, space := range s.kit.Spaces {
		for _, h := range space.Holds {
			loose = append(loose, h.Piece)
		}
	}
	var list []int
	for p := range s.Pieces {
		if s.Measured(p) && !slices.ContainsFunc(loose, func(o int) bool { return hangsOn(s.kit, p, o) }) {
			list = append(list, p)
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
