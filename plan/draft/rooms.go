package draft

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/blocking"
	"dryfit/plan/project"
)

// space is a hollow as it is drafted.
type space struct {
	name    string
	closers []closer
	holds   []int
}

// closer is a piece that shuts a space.
type closer struct {
	piece, axis int
	whole       bool
	opening     blocking.Opening // while it is off
}

// chooseSpaces drafts the hollows, and measures their openings. What would leave no order
// is dropped entry by entry, with a comment: sizes are those of boxes, and may wrongly
// reject a piece that goes in around a bend.
func (d *draft) chooseSpaces(ctx context.Context) error {
	for i := range d.hollows {
		h := &d.hollows[i]
		s := space{name: fmt.Sprintf("space-%d", i+1)}
		for _, c := range h.Closers {
			s.closers = append(s.closers, closer{piece: c.Piece, axis: c.Axis, whole: c.WholeSide()})
		}
		for _, p := range h.Holds {
			if slices.ContainsFunc(d.joins, func(j join) bool { return j.p == p && !j.close }) {
				s.holds = append(s.holds, p)
			}
		}
		d.spaces = append(d.spaces, s)
	}
	if err := d.measureOpenings(ctx); err != nil {
		return err
	}
	all := d.spaces
	d.spaces = nil
	for _, s := range all {
		if len(s.closers) == 0 {
			d.dropped = append(d.dropped, fmt.Sprintf("%s has no opening that anything in it passes: %s", s.name, strings.Join(d.namesOf(s.holds), ", ")))
			continue
		}
		wanted := s.holds
		s.holds = nil
		d.spaces = append(d.spaces, s)
		if err := d.furnish(ctx, wanted); err != nil {
			return err
		}
	}
	return nil
}

// furnish puts pieces into the last space, but for those with which there is no order. It
// halves the list to find them.
func (d *draft) furnish(ctx context.Context, pieces []int) error {
	if len(pieces) == 0 {
		return nil
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	s := &d.spaces[len(d.spaces)-1]
	before := len(s.holds)
	s.holds = append(s.holds, pieces...)
	k, err := d.kit()
	if err != nil {
		return err
	}
	_, sound, err := d.solve(k)
	if err != nil || sound {
		return err
	}
	s.holds = s.holds[:before]
	if len(pieces) == 1 {
		d.dropped = append(d.dropped, fmt.Sprintf("%s is in %s, but by its size it passes no opening in time", d.ids[pieces[0]], s.name))
		return nil
	}
	if err := d.furnish(ctx, pieces[:len(pieces)/2]); err != nil {
		return err
	}
	return d.furnish(ctx, pieces[len(pieces)/2:])
}

func (d *draft) namesOf(pieces []int) (list []string) {
	for _, p := range pieces {
		list = append(list, d.ids[p])
	}
	return list
}

// measureOpenings measures what is open while each closer is off, in the way in which a
// kit is checked. An opening that nothing held in the space passes is none.
func (d *draft) measureOpenings(ctx context.Context) error {
	k, err := d.kit()
	if err != nil {
		return err
	}
	of := make([]int, len(k.Pieces))
	for i, p := range k.Pieces {
		of[i] = d.number[p.ID]
	}
	for i, s := range d.spaces {
		list := s.closers[:0]
		for n, c := range s.closers {
			if !c.whole {
				got, known, err := project.Opening(ctx, k, d.survey.Model, of, k.Spaces[i], &k.Spaces[i].ClosedBy[n], c.axis, [2]float64{})
				if err != nil {
					return err
				}
				if c.opening = got; !known || !d.passes(s.holds, &c) {
					continue
				}
			}
			list = append(list, c)
		}
		d.spaces[i].closers = list
	}
	return nil
}

// passes reports whether any of some pieces passes an opening.
func (d *draft) passes(pieces []int, c *closer) bool {
	return slices.ContainsFunc(pieces, func(p int) bool {
		return plan.PassOf(d.survey.Pieces[p].Size(), c.opening.W, c.opening.H, geom.AxisName(c.axis), false) != plan.Cannot.String()
	})
}

// Space is what is said of a drafted space.
func (d *draft) tell(i int) Space {
	s := &d.spaces[i]
	var h *blocking.Hollow
	for n := range d.hollows {
		if s.name == fmt.Sprintf("space-%d", n+1) {
			h = &d.hollows[n]
		}
	}
	out := Space{Name: s.name, Volume: h.Volume, Min: h.Min, Max: h.Max, Holds: d.Measurement.names(s.holds), Closers: []Closer{}}
	var closers []string
	for _, c := range s.closers {
		one := Closer{Piece: d.survey.IDs[c.piece], Facing: geom.AxisName(c.axis), WholeSide: c.whole, Opening: [2]float64{c.opening.W, c.opening.H}, Passes: []Pass{}}
		text := fmt.Sprintf("%s (%s x %s mm along %s while it is off)", one.Piece, english.Number(c.opening.W, 2), english.Number(c.opening.H, 2), one.Facing)
		if c.whole {
			text = one.Piece
		}
		for _, p := range s.holds {
			one.Passes = append(one.Passes, Pass{d.survey.IDs[p], plan.PassOf(d.survey.Pieces[p].Size(), c.opening.W, c.opening.H, one.Facing, c.whole)})
		}
		out.Closers = append(out.Closers, one)
		closers = append(closers, text)
	}
	out.Text = fmt.Sprintf("%s, %.1f cm3, closed by %s", out.Name, h.Volume/1000, strings.Join(closers, ", "))
	if len(out.Holds) > 0 {
		out.Text += "; holds " + strings.Join(out.Holds, ", ")
	}
	return out
}
