package kits

import (
	"slices"
	"strings"
)

func (v *resolver) spaces() {
	k := v.kit
	k.spaceOf = map[string]*Space{}
	k.heldIn = map[int][]*Space{}
	for _, s := range k.Spaces {
		k.spaceOf[s.ID] = s
		v.known.spaces = append(v.known.spaces, s.ID)
	}
	for _, s := range k.Spaces {
		for _, c := range s.closedBy {
			v.closer(s, c)
		}
		held := map[int]bool{}
		for _, r := range s.holds {
			for _, p := range v.pieces("holds", r) {
				if held[p] {
					v.fault(r.Pos, "holds: %s is given twice; remove one", k.Pieces[p].ID)
					continue
				}
				held[p] = true
				s.Holds = append(s.Holds, Held{p, r.Pos})
				k.heldIn[p] = append(k.heldIn[p], s)
			}
		}
		if s.inside != nil {
			s.Inside = v.space("inside", *s.inside)
		}
	}
	for _, s := range k.Spaces {
		v.nesting(s)
	}
}

func (v *resolver) closer(s *Space, c closer) {
	out := Closer{Piece: -1, Opening: c.opening, Pos: c.pos}
	if c.name != nil {
		out.Name = c.name.Name
	}
	if out.Opening != nil {
		out.Opening.Facing = c.facing
	}
	switch {
	case c.piece == nil && c.opening == nil:
		return // already reported
	case c.piece == nil:
		s.ClosedBy = append(s.ClosedBy, out)
		return
	}
	for _, p := range v.pieces("closed-by", *c.piece) {
		out.Piece = p
		s.ClosedBy = append(s.ClosedBy, out)
	}
}

func (v *resolver) space(key string, r Ref) *Space {
	s := v.kit.spaceOf[r.Name]
	if s == nil {
		v.fault(r.Pos, "%s: no space is called %q%s", key, r.Name, v.Suggest(r.Name, v.known.spaces))
	}
	return s
}

// nesting reports a space that is inside itself or too many others, and cuts the
// link so that every walk outward ends.
func (v *resolver) nesting(s *Space) {
	seen := map[*Space]bool{s: true}
	for at := s; at.Inside != nil; at = at.Inside {
		switch {
		case seen[at.Inside]:
			v.fault(at.inside.Pos, "inside: %s is inside itself through %s", at.Inside.ID, at.ID)
		case len(seen) > maxInside:
			v.fault(at.inside.Pos, "inside: %s is nested in more than %d spaces; remove some", s.ID, maxInside)
		default:
			seen[at.Inside] = true
			continue
		}
		at.Inside = nil
		return
	}
}

func (v *resolver) service() {
	for _, s := range v.kit.Service {
		s.Reach = v.onePiece("reach", s.reach)
		if s.Reach < 0 {
			continue
		}
		names := v.openings(s.Reach)
		if !v.count("reach", s.reach, len(names)*(1+len(s.ByOpening))) {
			return
		}
		for _, r := range s.ByOpening {
			if !isOpening(names, r) {
				v.fault(r.Pos, "by-opening: %q is neither a closer nor a named opening of a space that holds %s%s",
					r.Name, s.reach.Name, v.Suggest(r.Name, names))
			}
		}
	}
}

func isOpening(names []string, r Ref) bool {
	return slices.ContainsFunc(names, func(name string) bool {
		part, _, _ := strings.Cut(name, ".")
		return name == r.Name || part == r.Name
	})
}

// openings names the closers and openings of the spaces that hold a piece.
func (v *resolver) openings(piece int) []string {
	var names []string
	for _, s := range v.kit.Around(piece) {
		for _, c := range s.ClosedBy {
			if c.Piece >= 0 {
				names = append(names, v.kit.Pieces[c.Piece].ID)
			}
			if c.Name != "" {
				names = append(names, c.Name)
			}
		}
	}
	return names
}

// Around lists the spaces a piece is in, each followed by those it is inside.
func (k *Kit) Around(piece int) []*Space {
	var list []*Space
	seen := map[*Space]bool{}
	for _, s := range k.heldIn[piece] {
		for at := s; at != nil && !seen[at]; at = at.Inside {
			seen[at] = true
			list = append(list, at)
		}
	}
	return list
}
