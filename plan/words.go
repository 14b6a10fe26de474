package plan

import (
	"fmt"

	"dryfit/kits"
)

// Does says what a step does, in the builder's names.
func (r *Constraints) Does(step int) string {
	s := r.Steps[step]
	switch s.Kind {
	case Fit:
		return fmt.Sprintf("Fit %s to %s", r.Labels(s.Join.Pieces), r.Labels(s.Join.Onto))
	case Close:
		return fmt.Sprintf("Close %s and %s on each other", r.Kit.Label(s.Join.Pieces[0]), r.Kit.Label(s.Join.Pieces[1]))
	case Thread:
		text := fmt.Sprintf("Thread %s from %s to %s", s.Wire.ID, r.Kit.Label(s.Wire.From), r.Kit.Label(s.Wire.To))
		if len(s.Wire.Through) > 0 {
			text += " through " + r.Labels(s.Wire.Through)
		}
		return text
	}
	return s.Task.Do
}

// DoesAct says what an entry of a sequence does, in the builder's names.
func (r *Constraints) DoesAct(a Act) string {
	s := r.Steps[a.Step]
	switch {
	case a.Off && s.Kind == Close:
		return fmt.Sprintf("Open %s and %s again", r.Kit.Label(s.Join.Pieces[0]), r.Kit.Label(s.Join.Pieces[1]))
	case a.Off:
		return fmt.Sprintf("Take %s off again", r.Labels(s.Join.Pieces))
	case a.Back && s.Kind == Close:
		return fmt.Sprintf("Close %s and %s again", r.Kit.Label(s.Join.Pieces[0]), r.Kit.Label(s.Join.Pieces[1]))
	case a.Back:
		return fmt.Sprintf("Put %s back", r.Labels(s.Join.Pieces))
	}
	return r.Does(a.Step)
}

// Labels names pieces for the builder; all copies of a part together as "Seat (2)".
func (r *Constraints) Labels(pieces []int) string {
	var names []string
	for _, run := range r.Kit.Runs(pieces) {
		if part := r.Kit.Pieces[run[0]].Part; len(run) > 1 && len(run) == part.Quantity {
			names = append(names, fmt.Sprintf("%s (%d)", part.Label(), len(run)))
			continue
		}
		for _, p := range run {
			names = append(names, r.Kit.Label(p))
		}
	}
	return and(names)
}

// Title is what a build is called: the name of the piece it is built on.
func (q *Sequence) Title(u int) string {
	if u == 0 {
		return "Main build"
	}
	return q.Solution.Constraints.Kit.Label(q.Builds[u].Base)
}

// Masked names the pieces to be kept unpainted that are on the model when it gets an
// outside coat; empty for any other step.
func (q *Sequence) Masked(step int) string {
	return q.Solution.Constraints.Labels(q.MaskedPieces(step))
}

// MaskedPieces lists the pieces that Masked names.
func (q *Sequence) MaskedPieces(step int) []int {
	r := q.Solution.Constraints
	if s := r.Steps[step]; !s.IsCoat() {
		return nil
	}
	var pieces []int
	for p, pc := range r.Kit.Pieces {
		if j := r.Kit.Fitted(p); pc.Part.Paint == kits.PaintMasked && (j == nil || q.Place[r.number.Join[j]] < q.Place[step]) {
			pieces = append(pieces, p)
		}
	}
	return pieces
}

// MM writes lengths given in mm in the unit of the kit file: 62 x 38 mm.
func (r *Constraints) MM(sides ...float64) string { return r.Kit.Unit.Lengths(sides...) }
