package project

import (
	"context"
	"fmt"
	"strings"

	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/blocking"
)

// Space is a hollow of the model with a name.
type Space struct {
	blocking.Hollow
	Name string
}

// findSpaces finds the hollows and names them by size.
func (s *Survey) findSpaces(ctx context.Context) ([]Space, float64, error) {
	hollows, mouth, err := s.Model.Hollows(ctx)
	var list []Space
	for i, h := range hollows {
		list = append(list, Space{h, fmt.Sprintf("space-%d", i+1)})
	}
	return list, mouth, err
}

// facts words a space.
func (s *Survey) facts(sp *Space) SpaceFacts {
	f := SpaceFacts{Name: sp.Name, Volume: sp.Volume, Min: sp.Min, Max: sp.Max, Holds: s.names(sp.Holds), Closers: []CloserFacts{}}
	var closers []string
	for i := range sp.Closers {
		c := &sp.Closers[i]
		cf := CloserFacts{Piece: s.IDs[c.Piece], Facing: geom.AxisName(c.Axis), WholeSide: c.WholeSide(), Opening: [2]float64{c.W, c.H}}
		text := fmt.Sprintf("%s (%s x %s mm along %s while it is off)", cf.Piece, trim(c.W), trim(c.H), cf.Facing)
		if cf.WholeSide {
			text = cf.Piece + " (a whole side while it is off)"
		}
		for _, p := range sp.Holds {
			pass := plan.PassOf(s.Pieces[p].Size(), c.W, c.H, cf.Facing, cf.WholeSide)
			cf.Passes = append(cf.Passes, PassFacts{s.IDs[p], pass})
		}
		f.Closers = append(f.Closers, cf)
		closers = append(closers, text)
	}
	f.Text = fmt.Sprintf("%s: %.1f cm3, x %.0f to %.0f, y %.0f to %.0f, z %.0f to %.0f mm", sp.Name, sp.Volume/1000,
		sp.Min[0], sp.Max[0], sp.Min[1], sp.Max[1], sp.Min[2], sp.Max[2])
	if len(closers) > 0 {
		f.Text += "; closed by " + strings.Join(closers, ", ")
	}
	if len(f.Holds) > 0 {
		f.Text += "; holds " + strings.Join(f.Holds, ", ")
	}
	return f
}

// spaces writes the hollows that something closes and that hold something.
func (d *draft) spaces(list []Space) {
	head := false
	for _, sp := range list {
		var holds []string
		for _, p := range sp.Holds {
			if d.parent[p] >= 0 {
				holds = append(holds, d.ids[p])
			}
		}
		if len(sp.Closers) == 0 || len(holds) == 0 {
			continue
		}
		if !head {
			d.line("")
			d.line("spaces:")
			head = true
		}
		d.line("  %s:", sp.Name)
		d.line("    closed-by:")
		for i := range sp.Closers {
			c := &sp.Closers[i]
			if c.WholeSide() || c.W == 0 || c.H == 0 {
				d.line("      - %s", d.ids[c.Piece])
				continue
			}
			w, h := c.W, c.H
			d.line("      - {piece: %s, opening: [%s, %s], facing: %s}", d.ids[c.Piece], d.mm(w), d.mm(h), geom.AxisName(c.Axis))
		}
		d.line("    holds: [%s]", strings.Join(holds, ", "))
	}
}
