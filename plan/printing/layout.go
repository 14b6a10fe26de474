package printing

import (
	"cmp"
	"math/rand/v2"
	"slices"

	"dryfit/kits"
)

// layout is the pieces on one bed.
type layout struct {
	bed    *bed
	pieces []Placed
	on     []*job
	area   float64 // of the pieces with their margins
}

// newLayout is an empty bed. It includes the tolerance by which a piece may be
// too large, so that every piece that fits its printer fits an empty bed.
func newLayout(p *kits.Printer) *layout {
	return &layout{bed: newBed(p.Volume[0]+spareRoom, p.Volume[1]+spareRoom, p.Margin)}
}

// layOut puts as much of a list on a bed as possible: it tries several orders and
// rules, and keeps the layout that covers the most.
func layOut(p *kits.Printer, kind int, list []*job) *layout {
	var best *layout
	full := 0.0
	for _, j := range list {
		s := j.on[kind]
		full += (s.Size[0] + p.Margin) * (s.Size[1] + p.Margin)
	}
	rng := rand.New(rand.NewPCG(1, 2)) // the same each time
	for n := range trials {
		l := newLayout(p)
		if n < 2 {
			l.freely(list, kind, rules[n])
		} else {
			for _, j := range shuffled(list, kind, n, rng) {
				l.put(j, kind, rules[n%len(rules)])
			}
		}
		if best == nil || l.area > best.area+hair {
			best = l
		}
		if best.area > full-hair {
			break // all are on it
		}
	}
	return best
}

// trials is how many layouts are tried.
const trials = 24

var rules = []measure{tight, snug, low}

// shuffled sorts pieces by their longer side, the longest first, with random
// variation from the second time on.
func shuffled(list []*job, kind, n int, rng *rand.Rand) []*job {
	type ranked struct {
		job  *job
		rank float64
	}
	ranks := make([]ranked, len(list))
	for i, j := range list {
		s := j.on[kind]
		ranks[i] = ranked{j, max(s.Size[0], s.Size[1]) + min(s.Size[0], s.Size[1])/1000}
		if n >= 2*len(rules) {
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

// put puts a piece on the bed if there is room.
func (l *layout) put(j *job, kind int, suits measure) {
	s := j.on[kind]
	if at, ok := l.bed.find(s.Size[0], s.Size[1], suits); ok {
		l.take(j, s, at)
	}
}

func (l *layout) take(j *job, s *Setting, at spot) {
	l.area += at.at.w * at.at.d
	r := l.bed.take(at)
	l.on = append(l.on, j)
	l.pieces = append(l.pieces, Placed{j.facts.Part, j.piece, s, r.x, r.y, at.quarter})
}

// freely puts pieces on the bed, each time the one with the best place, until
// none fits.
func (l *layout) freely(list []*job, kind int, suits measure) {
	list = slices.Clone(list)
	for {
		var best spot
		at := -1
		for i, j := range list {
			s := j.on[kind]
			if c, ok := l.bed.find(s.Size[0], s.Size[1], suits); ok && (at < 0 || c.better(&best)) {
				best, at = c, i
			}
		}
		if at < 0 {
			return
		}
		j := list[at]
		l.take(j, j.on[kind], best)
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
