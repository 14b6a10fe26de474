package plan

import "dryfit/kits"

// change is one thing a designer could change. The rules are built as if the kit
// said so; the kit itself stays as it is. The zero change changes nothing.
type change struct {
	drop   *kits.Pos // the after or before at this place
	bench  *kits.Join
	opens  *kits.Join
	refit  *kits.Join // to the piece onto
	onto   int
	paint  *kits.Part // to be painted before fitting
	widen  *kits.Opening
	to     opening
	closer *kits.Space // also closed by the piece wall, a whole side
	wall   int
	run    *kits.Wire // its holes stay open once its spaces are shut
	bare   *kits.Wire
	hole   *kits.Wire
	wide   float64
	toward *kits.Join // travels along the direction
	along  [3]float64
}

// opening is a clear rectangle in mm.
type opening struct {
	w, h   float64
	facing string
}

func (c *change) isBench(j *kits.Join) bool { return j.Bench || c.bench == j }
func (c *change) isOpen(j *kits.Join) bool  { return j.Opens || c.opens == j }

func (c *change) ontoOf(j *kits.Join) []int {
	if c.refit == j {
		return []int{c.onto}
	}
	return j.Onto
}

func (c *change) paintOf(p *kits.Part) string {
	if c.paint == p {
		return "before-fit"
	}
	return p.Paint
}

func (c *change) openingOf(o *kits.Opening) *opening {
	switch {
	case o == nil:
		return nil
	case c.widen == o:
		return &c.to
	}
	return &opening{o.W, o.H, o.Facing}
}

func (c *change) closersOf(s *kits.Space) []kits.Closer {
	if c.closer == s {
		return append(s.ClosedBy[:len(s.ClosedBy):len(s.ClosedBy)], kits.Closer{Piece: c.wall, Pos: s.Pos})
	}
	return s.ClosedBy
}

func (c *change) dropped(t kits.Target) bool { return c.drop != nil && *c.drop == t.Pos }

// towardOf is the direction in which a join's pieces are said to travel, nil if
// nothing is said.
func (c *change) towardOf(j *kits.Join) *[3]float64 {
	if c.toward == j {
		return &c.along
	}
	return j.Toward
}

func (c *change) isBare(w *kits.Wire) bool { return w.Bare || c.bare == w }

func (c *change) holeOf(w *kits.Wire) *float64 {
	if c.hole == w {
		return &c.wide
	}
	return w.Hole
}
