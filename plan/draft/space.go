package draft

import (
	"fmt"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// space names a hollow, and says how what it holds passes its openings.
func (m *Measurement) space(i int) Space {
	h, s := &m.hollows[i], m.survey
	out := Space{Name: fmt.Sprintf("space-%d", i+1), Volume: h.Volume, Min: h.Min, Max: h.Max, Holds: m.names(h.Holds), Closers: []Closer{}}
	var closers []string
	for i := range h.Closers {
		c := &h.Closers[i]
		closer := Closer{Piece: s.IDs[c.Piece], Facing: geom.AxisName(c.Axis), WholeSide: c.WholeSide(), Opening: [2]float64{c.W, c.H}, Passes: []Pass{}}
		text := fmt.Sprintf("%s (%s x %s mm along %s while it is off)", closer.Piece, english.Number(c.W, 2), english.Number(c.H, 2), closer.Facing)
		if closer.WholeSide {
			text = closer.Piece + " (a whole side while it is off)"
		}
		for _, p := range h.Holds {
			pass := plan.PassOf(s.Pieces[p].Size(), c.W, c.H, closer.Facing, closer.WholeSide)
			closer.Passes = append(closer.Passes, Pass{s.IDs[p], pass})
		}
		out.Closers = append(out.Closers, closer)
		closers = append(closers, text)
	}
	out.Text = fmt.Sprintf("%s: %.1f cm3, x %.0f to %.0f, y %.0f to %.0f, z %.0f to %.0f mm", out.Name, h.Volume/1000,
		h.Min[0], h.Max[0], h.Min[1], h.Max[1], h.Min[2], h.Max[2])
	if len(closers) > 0 {
		out.Text += "; closed by " + strings.Join(closers, ", ")
	}
	if len(out.Holds) > 0 {
		out.Text += "; holds " + strings.Join(out.Holds, ", ")
	}
	return out
}
