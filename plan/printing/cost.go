package printing

import (
	"math"

	"dryfit/kits"
	"dryfit/plan/printing/supports"
)

// Cost is what it costs to print a part lying in some way, each term in the unit
// in which people count it.
type Cost struct {
	Hours    float64 // of the printer, for one piece alone, with supports
	Columns  float64 // cm3 of room that supports stand in
	Trapped  float64 // cm3 of it in hollows from which supports cannot be taken
	Seen     float64 // cm2 of marks on visible faces
	Hidden   float64 // cm2 of marks on other faces
	Layer    float64 // cm2, the largest layer
	Growth   float64 // cm2, the largest growth from one layer to the next
	Holds    float64 // cm3 of resin held in pockets that open only towards the bed
	Sucks    float64 // cm3 of pockets that open only away from the bed
	Islands  float64 // number of them
	Height   float64 // cm
	Unsteady float64 // 1 if it is tall on a narrow foot
	Footless float64 // 1 if filament has no flat foot
	Thin     float64 // cm of thin pegs across the layers
	Bed      float64 // cm2 of the bed, with the margin
	Total    float64 // hours of all of it
}

// Weight is what a unit of a term of the cost is worth, in hours.
type Weight struct {
	Term, Unit      string
	Resin, Filament float64
	Source          string
}

// clearMarks is how many times worse a mark on a clear face is than on another
// visible one: it must be polished, and shows even so (ours).
const clearMarks = 10

// Weights lists what each term of the cost is worth. That the term matters is
// common practice except where noted; how much is ours.
var Weights = []struct {
	Weight
	of func(*Cost) float64
}{
	{Weight{"printer", "h", 0.6, 1, "ours; a plate of resin is shared by its pieces"}, func(c *Cost) float64 { return c.Hours }},
	{Weight{"support columns", "cm3", 0.004, 0.004, "common practice; taking off and cleaning"}, func(c *Cost) float64 { return c.Columns }},
	{Weight{"trapped supports", "cm3", 0.2, 0.2, "common practice; they stay in"}, func(c *Cost) float64 { return c.Trapped }},
	{Weight{"marks on visible faces", "cm2", 0.017, 0.017, "common practice; filling and sanding, 1 minute"}, func(c *Cost) float64 { return c.Seen }},
	{Weight{"marks on hidden and glued faces", "cm2", 0.005, 0.005, "common practice; scraping off, 18 seconds"}, func(c *Cost) float64 { return c.Hidden }},
	{Weight{"largest layer", "cm2", 0.06, 0, "common practice; it pulls on the film"}, func(c *Cost) float64 { return c.Layer }},
	{Weight{"largest growth of a layer", "cm2", 0.08, 0, "common practice; it distorts, and a line shows"}, func(c *Cost) float64 { return c.Growth }},
	{Weight{"resin held", "cm3", 0.02, 0, "common practice"}, func(c *Cost) float64 { return c.Holds }},
	{Weight{"suction", "cm3", 0.05, 0, "common practice; a closed cup sucks on the film"}, func(c *Cost) float64 { return c.Sucks }},
	{Weight{"islands", "each", 0.02, 0.02, "common practice; each must be held"}, func(c *Cost) float64 { return c.Islands }},
	{Weight{"height", "cm", 0, 0.02, "common practice; a tall print wobbles and shows more lines"}, func(c *Cost) float64 { return c.Height }},
	{Weight{"tall on a narrow foot", "part", 2, 2, "common practice; it falls over"}, func(c *Cost) float64 { return c.Unsteady }},
	{Weight{"no flat foot", "part", 0, 0.5, "common practice; it holds on by its supports alone"}, func(c *Cost) float64 { return c.Footless }},
	{Weight{"thin pegs across the layers", "cm", 0, 0.3, "common practice; they break between layers"}, func(c *Cost) float64 { return c.Thin }},
	{Weight{bedTerm, "cm2", 0.006, 0.002, "ours; its share of the hours of a plate of resin"}, func(c *Cost) float64 { return c.Bed }},
}

// bedTerm is the term of room on the bed.
const bedTerm = "bed"

// costStep is the difference, in hours, below which costs are equal: the first side
// that was tried is taken.
const costStep = 0.005

// sum completes the total. Room on the bed counts so many times.
func (c *Cost) sum(process string, room int) {
	c.Total = 0
	for _, w := range Weights {
		each := w.Filament
		if process == kits.Resin {
			each = w.Resin
		}
		if w.Term == bedTerm {
			each *= float64(room)
		}
		c.Total += each * w.of(c)
	}
	c.Total = math.Round(c.Total/costStep) * costStep
}

// cost is the cost of a part in a pose on a printer, on a place of some size on the
// bed, once it was measured; taking it off a printer takes its time alone.
func (f *facts) cost(o *pose, h *held, w, d float64, p *kits.Printer) Cost {
	height := o.high
	c := Cost{
		Columns: h.Need.Columns / 1000, Trapped: h.Need.Trapped / 1000,
		Seen: h.Need.Visible / 100, Hidden: (h.Need.Area - h.Need.Visible) / 100,
		Layer: h.Largest.Area / 100, Growth: h.Growth.Area / 100,
		Holds: h.Pockets.Down / 1000, Sucks: h.Pockets.Up / 1000,
		Islands: float64(max(h.Need.Islands, 0)), Height: height / 10, Thin: h.Thin / 10,
		Bed: (w + p.Margin) * (d + p.Margin) / 100,
	}
	if f.Clear() {
		c.Seen *= clearMarks
	}
	if o.onBed && o.foot == 0 {
		c.Footless = 1
	}
	if o.onBed && height > slender*o.stands(h, w, d) {
		c.Unsteady = 1
	}
	c.Hours = f.takes(o, height, f.printed(h, p), p).High.Hours()
	c.sum(p.Process, f.roomOn(p))
	return c
}

// stands is how wide, in mm, a part stands on the bed where it is narrow: on its foot,
// or else on what touches the bed and the columns, as a strip of the part's length.
func (o *pose) stands(h *held, w, d float64) float64 {
	if o.foot > 0 {
		return o.width
	}
	return strip(&h.Need, w, d)
}

// strip is how wide what touches the bed and the columns are as a strip of a part's
// length, mm.
func strip(n *supports.Need, w, d float64) float64 { return (n.Foot + n.Area) / max(w, d) }

// alikeCost reports whether two ways to lie cost the same, term by term, to within 2 %.
func alikeCost(a, b *Cost) bool {
	for _, w := range Weights {
		x, y := w.of(a), w.of(b)
		if math.Abs(x-y) > 0.02*max(x, y)+0.01 {
			return false
		}
	}
	return true
}

// printed is how much is printed as supports, mm3.
func (f *facts) printed(h *held, p *kits.Printer) float64 { return p.Support.Fill * h.Need.Columns }

// takes is how long a piece takes alone in a pose, with supports of some volume.
func (f *facts) takes(o *pose, height, printed float64, p *kits.Printer) Band {
	if p.Process == kits.Resin {
		if !o.onBed {
			height += p.Support.Raise
		}
		t := resinTime(p, height)
		return Band{t, t}
	}
	t := filamentTime(p, f.Material()+printed)
	if f.BySize {
		t.Low = 0
	}
	return t
}

// guess is about the cost of a part in a pose, from its surface by direction: which
// poses are worth measuring. It takes all columns to reach the bed, and layers to be
// like the mean one, or as large as what lies along the film.
func (f *facts) guess(o *pose, p *kits.Printer) float64 {
	rules := f.rules(o, p)
	s := f.leaning(o, cosine(rules.Angle))
	bottom := far(f.rough, o.down)
	h := &held{}
	h.Need.Area, h.Need.Visible = max(s.area-o.foot, 0), s.seen
	if s.area > 0 {
		h.Need.Visible = min(s.seen, h.Need.Area)
	}
	h.Need.Columns = max(bottom*s.shadow-s.depth, 0) + rules.Raise*s.shadow
	h.Largest.Area = max(f.Shape.Volume/max(o.high, p.Layer), s.film/2)
	if !o.onBed {
		h.Growth.Area = s.film / 2
	}
	c := f.cost(o, h, o.w, o.d, p)
	return c.Total
}
