package printing

import (
	"fmt"
	"math"

	"dryfit/plan"
)

// Limits for findings on what holds a part (ours).
const (
	manyColumns = 100.0 // cm3 of columns under one piece
	tinyFoot    = 0.02  // of the shadow of a part on the bed, with more than fewColumns under the rest,
	highColumns = 0.5   // times as high, on average, as they and the foot are wide together
	fewColumns  = 5.0   // cm3
	fewTrapped  = 0.5   // cm3
	smallPocket = 1.0   // cm3
	longThin    = 10.0  // mm of a thin peg
)

// fails reports whether a part that lies like this may fall, break, keep its supports or
// hold resin, all of which is told.
func (c *Cost) fails() bool {
	return c.Unsteady > 0 || c.Trapped > fewTrapped || c.Holds > smallPocket || c.Sucks > smallPocket || c.Thin > longThin/10
}

// held lists what is wrong with how a part is held while it is printed.
func (p *Planned) held() (list []remark) {
	s := p.Setting
	if s == nil || p.BySize {
		return nil
	}
	add := func(of string, much float64, repair, format string, args ...any) {
		list = append(list, remark{of, much, plan.Supports, fmt.Sprintf(format, args...), repair})
	}
	c := &s.Cost
	if up := p.Of.Orient; up != nil && up.Unit().Dot(s.Turn[2]) < cosine(1) {
		add("orient", 1, "say with orient another side, or leave it out", "it does not fit %s with the side up that the kit states, and is planned with %s up", p.Printer.ID, sideOf(s.Turn[2]))
	}
	switch shadow := polygonArea(s.Shadow); {
	case s.Raised == 0 && s.Need.Foot < tinyFoot*shadow && c.Columns > fewColumns && s.columnsHigh() > highColumns*s.stands():
		add("foot", c.Columns, "say with orient which side is up, or divide it", "it lies on %.0f mm2, %.1f %% of its shadow, with %.3g cm3 of columns under the rest: it may come off the bed%s",
			s.Need.Foot, 100*s.Need.Foot/shadow, c.Columns, p.lighter())
	case c.Columns > manyColumns:
		add("columns", c.Columns, "say with orient which side is up, or divide it", "it needs %.3g cm3 of columns, %.0f g of supports%s", c.Columns, p.Support, p.lighter())
	}
	if c.Unsteady > 0 {
		add("unsteady", s.Size[2], "print it with a brim or on supports, or lay it on another side", "it stands %.0f mm tall on a narrow foot and may fall over", s.Size[2])
	}
	if c.Trapped > fewTrapped {
		add("trapped", c.Trapped, "divide it, open the hollow, or say with orient which side is up", "%.2g cm3 of its columns stand in hollows or slots from which supports cannot be taken", c.Trapped)
	}
	if c.Holds > smallPocket {
		add("holds", c.Holds, "give it a drain hole of 3 mm at the top of the pocket as it is printed, or turn it", "a pocket of %.2g cm3 that opens only towards the bed holds resin as it hangs in the printer", c.Holds)
	}
	if c.Sucks > smallPocket {
		add("sucks", c.Sucks, "give it a hole of 3 mm near the bed as it is printed, or turn it", "a pocket of %.2g cm3 that opens only away from the bed sucks on the film", c.Sucks)
	}
	if c.Thin > longThin/10 {
		add("thin", c.Thin, "lay it on its side, or make the peg thicker", "%.0f mm of it are thin pegs that stand across the layers and break there", 10*c.Thin)
	}
	return list
}

// columnsHigh is how high the columns under a part are on average, mm.
func (s *Setting) columnsHigh() float64 { return s.Need.Columns / max(s.Need.Area, 1) }

// stands is how wide the foot and the columns stand together, mm, as a strip of the
// part's length: low columns side by side under a whole part hold it to the bed.
func (s *Setting) stands() float64 {
	return strip(&s.Need, s.Size[0], s.Size[1])
}

// lighter says what the way to lie with the fewest columns, of the next best ones,
// needs, if that is much less.
func (p *Planned) lighter() string {
	best := p.Setting
	for _, o := range p.Setting.Others {
		if o.Cost.Columns < best.Cost.Columns {
			best = o
		}
	}
	if best.Cost.Columns > 0.7*p.Setting.Cost.Columns {
		return ""
	}
	text := fmt.Sprintf("; with %s up it would need %.3g cm3 and mark %.0f cm2 of visible faces", sideOf(best.Turn[2]), best.Cost.Columns, best.Need.Visible/100)
	if best.Cost.Unsteady > 0 {
		text += ", but may fall over"
	}
	return text
}

// smaller says what the largest layer would be in the next best way to lie where it is
// smallest, and divided in two.
func (p *Planned) smaller() string {
	best := p.Setting
	for _, o := range p.Setting.Others {
		if o.Largest.Area < best.Largest.Area {
			best = o
		}
	}
	text := fmt.Sprintf("; divided in two across it, about %.0f mm2", p.Largest.Area/2)
	if best.Largest.Area < 0.8*p.Largest.Area {
		text += fmt.Sprintf("; with %s up, %.0f mm2 at most", sideOf(best.Turn[2]), best.Largest.Area)
	}
	return text
}

// Marked says how much of the surface supports mark, and where; empty if they hardly
// mark it.
func (s *Setting) Marked() string {
	n := &s.Need
	if n.Area < 1 {
		return ""
	}
	text := fmt.Sprintf("%.1f cm2, most of it on faces toward %s", n.Area/100, Sides[s.MostMarked()])
	switch {
	case s.Blind:
		return text
	case n.Visible < 0.01*n.Area:
		return text + "; none of it is seen on the model"
	case n.Visible > 0.99*n.Area:
		return text + "; all of it is seen on the model"
	}
	return text + fmt.Sprintf("; %.1f cm2 of it are seen on the model", n.Visible/100)
}

// MostMarked is the index in Sides of the side toward which most marked faces face.
func (s *Setting) MostMarked() (most int) {
	for i, area := range s.Need.Sides {
		if area > s.Need.Sides[most] {
			most = i
		}
	}
	return most
}

// sideOf names the side of the model that a direction is nearest to, as [x, y, z] if it
// is far from all.
func sideOf(d [3]float64) string {
	for k := range 3 {
		if math.Abs(d[k]) > cosine(20) {
			return map[bool]string{true: "+", false: "-"}[d[k] > 0] + "xyz"[k:k+1]
		}
	}
	return fmt.Sprintf("[%.2g, %.2g, %.2g]", d[0], d[1], d[2])
}

// polygonArea is the area of a ring of corners.
func polygonArea(ring [][2]float64) (a float64) {
	for i, p := range ring {
		q := ring[(i+1)%len(ring)]
		a += (p[0]*q[1] - p[1]*q[0]) / 2
	}
	return math.Abs(a)
}
