package next

import (
	"slices"

	"dryfit/kits/progress"
)

// job finds out what a step waits for.
func (t *Todo) job(v int) Job {
	s := t.rep.Constraints.Steps[v]
	j := Job{Step: v, Waits: t.rep.Sequence.Waits(v)}
	j.Pieces = t.fitted(s.Fits(), false)
	for _, piece := range t.wanted(v) {
		if lacks := t.lacks(piece, slices.Contains(j.Pieces, piece)); lacks != 0 {
			j.Missing = append(j.Missing, Missing{piece, lacks})
		}
		if !t.part(piece).ToPrint() && !t.held[piece] {
			j.Have = append(j.Have, piece)
		}
	}
	for _, c := range t.rep.Sequence.LastCall(v) {
		if c.What == progress.TickPaint && !t.has(c.Piece, progress.Painted) {
			j.Inside = append(j.Inside, c.Piece)
		}
	}
	for _, p := range t.rep.Sequence.PaintInside(v) {
		if !t.has(p, progress.Painted) {
			j.Recall = append(j.Recall, p)
		}
	}
	return j
}

// unprinted reports whether something must be printed for the job.
func (j Job) unprinted() bool {
	return slices.ContainsFunc(j.Missing, func(m Missing) bool { return m.States&progress.Printed != 0 })
}

// wanted lists the pieces that a step handles, each once, without those already
// fitted.
func (t *Todo) wanted(v int) []int {
	var list []int
	for _, piece := range t.fitted(t.handles(v), false) {
		if !slices.Contains(list, piece) {
			list = append(list, piece)
		}
	}
	return list
}

// handles lists the pieces that a step works on. Of a task that follows nothing and comes
// before a closing, such as the paint inside, that is what is closed.
func (t *Todo) handles(v int) []int {
	s := t.rep.Constraints.Steps[v]
	pieces := s.InHand()
	if s.Task == nil || len(s.Task.After) > 0 {
		return pieces
	}
	for _, o := range s.Task.Before {
		for _, j := range o.Joins {
			if j.IsClose() {
				pieces = append(pieces, j.Pieces...)
			}
		}
	}
	return pieces
}

// lacks are the states that a piece should have before a step fits or first
// handles it: printed and cleaned, and painted if it is painted separately.
func (t *Todo) lacks(piece int, fits bool) progress.States {
	if t.held[piece] && !fits {
		return 0
	}
	var want progress.States
	if t.part(piece).ToPrint() {
		want = progress.Printed | progress.Cleaned
	}
	if t.part(piece).PaintedAlone() {
		want |= progress.Painted
	}
	return want &^ t.p.Pieces[piece]
}

// bench finds the work on single pieces: cleaning what is printed, and painting
// what is clean and painted separately.
func (t *Todo) bench() {
	for i := range t.p.Pieces {
		part := t.part(i)
		ready := !part.ToPrint() || t.has(i, progress.Cleaned)
		switch {
		case !ready && t.has(i, progress.Printed):
			t.Bench.Clean = append(t.Bench.Clean, i)
		case ready && part.PaintedAlone() && !t.has(i, progress.Fitted) && !t.has(i, progress.Painted):
			t.Bench.Paint = append(t.Bench.Paint, i)
		}
	}
}
