package printing

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"

	"dryfit/kits"
)

// layout is the pieces on one bed.
type layout struct {
	kind   int
	edge   float64 // kept free along the sides of the bed, mm
	room   [2]float64
	cells  *cells // nil until an outline is put on the bed, or the boxes are final
	bed    *bed   // nil once outlines count
	pieces []Placed
	area   float64 // of the pieces with their gaps
	takes  Band
	on     []*job
	p      *kits.Printer
}

func emptyLayout(p *kits.Printer, kind int) *layout {
	return &layout{p: p, kind: kind, edge: p.Edge + p.Border, room: free(p)}
}

// layBoxes is an empty bed that holds the boxes around the pieces.
func layBoxes(p *kits.Printer, kind int) *layout {
	l := emptyLayout(p, kind)
	l.bed = newBed(l.room[0], l.room[1], gap(p))
	return l
}

// layOutlines is an empty bed that holds their outlines.
func layOutlines(p *kits.Printer, kind int) *layout {
	l := emptyLayout(p, kind)
	l.cells = newCells(l.room[0], l.room[1], cellOf(gap(p)))
	return l
}

// alone is a bed with one piece in the middle.
func alone(p *kits.Printer, kind int, j *job) *layout {
	l := emptyLayout(p, kind)
	s := j.on[kind]
	w, d := s.Size[0], s.Size[1]
	l.place(j, Placed{j.facts.Part, j.piece, s, (p.Volume[0] - w) / 2, (p.Volume[1] - d) / 2, 0})
	return l
}

// effort is how much is tried for one plate: so many layouts of boxes, then of outlines, as
// long as fewer rows of cells were tested than work, of so many pieces in order of need.
type effort struct{ boxes, layouts, work, pieces int }

var (
	hasty    = effort{3, 1, 60_000, 300}
	quick    = effort{12, 8, 300_000, 2000}
	thorough = effort{12, 60, 6_000_000, 2000}
)

// layOut puts as much of a list on a bed as possible: it tries several orders and
// rules, first with the boxes around the pieces and, if that is not enough, with their
// outlines, and keeps the layout that covers the most.
func layOut(p *kits.Printer, kind int, list []*job, most effort) *layout {
	if !list[0].on[kind].clears(p) {
		return alone(p, kind, list[0])
	}
	list = slices.DeleteFunc(slices.Clone(list), func(j *job) bool { return !j.on[kind].clears(p) })
	full := 0.0
	for _, j := range list {
		full += j.on[kind].Outline.Area()
	}
	var best *layout
	better := func(l *layout) bool {
		if best == nil || l.area > best.area+hair {
			best = l
		}
		return best.area > full-hair // all are on it
	}
	rng := rand.New(rand.NewPCG(1, 2)) // the same each time
	for n := range most.boxes {
		l := layBoxes(p, kind)
		if n < 2 {
			l.freely(list, rules[n])
		} else {
			for _, j := range shuffled(list, kind, n, 2*len(rules), rng) {
				l.putBox(j, rules[n%len(rules)])
			}
		}
		if better(l) {
			return best.settled(p)
		}
	}
	work := 0
	for n := 0; n < most.layouts && work < most.work; n++ {
		l := layOutlines(p, kind)
		for _, j := range shuffled(list, kind, n, len(sizes), rng) {
			l.put(j)
		}
		if work += l.cells.work; better(l) {
			break
		}
	}
	return best.settled(p)
}

var rules = []measure{tight, snug, low}

// sizes are the measures by which pieces are sorted, the largest first.
var sizes = []func(*Setting) float64{
	func(s *Setting) float64 { return max(s.Size[0], s.Size[1]) + min(s.Size[0], s.Size[1])/1000 },
	func(s *Setting) float64 { return s.Outline.Area() },
	func(s *Setting) float64 { return s.Size[0] * s.Size[1] },
}

// shuffled sorts pieces by their size, the largest first, with random variation from
// the steady-th time on.
func shuffled(list []*job, kind, n, steady int, rng *rand.Rand) []*job {
	type ranked struct {
		job  *job
		rank float64
	}
	size := sizes[n%len(sizes)]
	if n < steady && steady > len(sizes) {
		size = sizes[0] // of boxes the longer side counts
	}
	ranks := make([]ranked, len(list))
	for i, j := range list {
		ranks[i] = ranked{j, size(j.on[kind])}
		if n >= steady {
			ranks[i].rank *= 0.6 + 0.8*rng.Float64()
		}
	}
	slices.SortStableFunc(ranks, func(a, b ranked) int { return cmp.Compare(b.rank, a.rank) })
	out := make([]*job, len(list))
	for i, r := range ranks {
		out[i] = r.job
	}
	return out
}

// settled is the layout with the cells of its pieces taken, so that more outlines can
// be put between them.
func (l *layout) settled(p *kits.Printer) *layout {
	if l.cells != nil {
		return l
	}
	l.bed = nil
	l.cells = newCells(l.room[0], l.room[1], cellOf(gap(p)))
	for i := range l.pieces {
		l.mark(&l.pieces[i], nil)
	}
	l.cells.countAll()
	return l
}

// cover takes the cells of a piece.
func (l *layout) cover(x *Placed) { l.mark(x, l.cells.count) }

// mark marks the cells of a piece as taken, see [cells.mark]. One that lies between cells
// takes those on both sides.
func (l *layout) mark(x *Placed, done func(y, first, last int)) {
	s := x.Setting.Outline.stamp(x.Quarters)
	c, r, on := l.grid(x)
	wider := 1
	if on {
		wider = 0
	}
	l.cells.mark(&s.taken, c-s.grow, r-s.grow, wider, done)
}

// grid is the cell in which the outline of a piece begins, and whether it begins with
// the cell.
func (l *layout) grid(x *Placed) (c, r int, on bool) {
	dx, dy := x.slack()
	near := spareRoom / l.cells.cell
	col, row := (x.X-l.edge-dx)/l.cells.cell, (x.Y-l.edge-dy)/l.cells.cell
	fc, fr := math.Floor(col+near), math.Floor(row+near)
	return int(fc), int(fr), col-fc < near && row-fr < near
}

// slack is how far the box of a turned piece lies from the corner of its cells, mm: its
// last row and column may be cells that it fills in part.
func (x *Placed) slack() (dx, dy float64) {
	o := x.Setting.Outline
	w := float64(o.Mask.W)*o.Cell - x.Setting.Size[0]
	d := float64(len(o.Mask.Rows))*o.Cell - x.Setting.Size[1]
	switch x.Quarters {
	case 1:
		return d, 0
	case 2:
		return w, d
	case 3:
		return 0, w
	}
	return 0, 0
}

// put puts the outline of a piece on the bed if there is room.
func (l *layout) put(j *job) bool {
	s := j.on[l.kind]
	if !l.allows(s) {
		return false
	}
	at, ok := l.cells.find(s.Outline)
	if !ok {
		return false
	}
	l.cells.take(s.Outline, at)
	x := Placed{Part: j.facts.Part, Piece: j.piece, Setting: s, Quarters: at.quarters}
	dx, dy := x.slack()
	x.X, x.Y = l.edge+float64(at.x)*l.cells.cell+dx, l.edge+float64(at.y)*l.cells.cell+dy
	l.place(j, x)
	return true
}

// putBox puts the box around a piece on the bed if there is room.
func (l *layout) putBox(j *job, suits measure) {
	s := j.on[l.kind]
	if at, ok := l.bed.find(s.Size[0], s.Size[1], suits); ok && l.allows(s) {
		l.takeBox(j, s, at)
	}
}

func (l *layout) takeBox(j *job, s *Setting, at spot) {
	r := l.bed.take(at)
	quarters := 0
	if at.quarter {
		quarters = 1
	}
	l.place(j, Placed{j.facts.Part, j.piece, s, l.edge + r.x, l.edge + r.y, quarters})
}

// allows reports whether the plate still takes no longer than the kit allows. What
// takes longer alone is printed all the same.
func (l *layout) allows(s *Setting) bool {
	return l.p.Longest == 0 || len(l.pieces) == 0 || sharing(l.p, l.takes, s.Time).High <= l.p.Longest
}

func (l *layout) place(j *job, x Placed) {
	l.takes = sharing(l.p, l.takes, x.Setting.Time)
	l.area += x.Setting.Outline.Area()
	l.on = append(l.on, j)
	l.pieces = append(l.pieces, x)
}

// freely puts boxes on the bed, each time the one with the best place, until none
// fits.
func (l *layout) freely(list []*job, suits measure) {
	list = slices.Clone(list)
	for {
		var best spot
		at := -1
		for i, j := range list {
			s := j.on[l.kind]
			if c, ok := l.bed.find(s.Size[0], s.Size[1], suits); ok && l.allows(s) && (at < 0 || c.better(&best)) {
				best, at = c, i
			}
		}
		if at < 0 {
			return
		}
		j := list[at]
		l.takeBox(j, j.on[l.kind], best)
		list = slices.Delete(list, at, at+1)
	}
}

// height is the height of the tallest piece.
func (l *layout) height() (h float64) {
	for _, x := range l.pieces {
		h = max(h, x.Setting.Height())
	}
	return h
}
