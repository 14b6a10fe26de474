package plan

import "dryfit/kits"

// Change is a single change that a designer could make. The constraints are
// derived as if the kit said so; the kit itself is not modified. The zero Change
// changes nothing.
type Change struct {
	Drop   *kits.Pos // the after or before at this position
	Bench  *kits.Join
	Opens  *kits.Join
	Refit  *kits.Join // to the piece Onto
	Onto   int
	Paint  *kits.Part // to be painted before fitting
	Widen  *kits.Opening
	To     Clear
	Closer *kits.Space // also closed by the piece Wall, a whole side
	Wall   int
	Run    *kits.Wire // its holes stay open once its spaces are shut
	Bare   *kits.Wire
	Hole   *kits.Wire
	Wide   float64
	Toward *kits.Join // travels in the direction Along
	Along  [3]float64
}

// Clear is a clear rectangle in mm.
type Clear struct {
	W, H   float64
	Facing string
}

func (c *Change) IsBench(j *kits.Join) bool { return j.Bench || c.Bench == j }

// IsOpen reports whether a join opens again; what has none, a wire, does not.
func (c *Change) IsOpen(j *kits.Join) bool { return j != nil && (j.Opens || c.Opens == j) }

func (c *Change) OntoOf(j *kits.Join) []int {
	if c.Refit == j {
		return []int{c.Onto}
	}
	return j.Onto
}

func (c *Change) paintOf(p *kits.Part) string {
	if c.Paint == p {
		return kits.PaintBeforeFit
	}
	return p.Paint
}

func (c *Change) OpeningOf(o *kits.Opening) *Clear {
	switch {
	case o == nil:
		return nil
	case c.Widen == o:
		return &c.To
	}
	return &Clear{o.W, o.H, o.Facing}
}

func (c *Change) closersOf(s *kits.Space) []kits.Closer {
	if c.Closer == s {
		return append(s.ClosedBy[:len(s.ClosedBy):len(s.ClosedBy)], kits.Closer{Piece: c.Wall, Pos: s.Pos})
	}
	return s.ClosedBy
}

func (c *Change) dropped(t kits.Target) bool { return c.Drop != nil && *c.Drop == t.Pos }

// TowardOf is the direction in which the kit says a join's pieces travel, nil if
// it says nothing.
func (c *Change) TowardOf(j *kits.Join) *[3]float64 {
	if c.Toward == j {
		return &c.Along
	}
	return j.Toward
}

func (c *Change) IsBare(w *kits.Wire) bool { return w.Bare || c.Bare == w }

func (c *Change) HoleOf(w *kits.Wire) *float64 {
	if c.Hole == w {
		return &c.Wide
	}
	return w.Hole
}
