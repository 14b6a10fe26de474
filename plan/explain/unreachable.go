package explain

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// unreachableFindings reports what passes no opening of its space even with
// nothing in the way.
func (r *explainer) unreachableFindings() []plan.Finding {
	var list []plan.Finding
	for i := range r.Access {
		e := &r.Access[i]
		if e.Space == nil || !e.Unreachable() {
			continue
		}
		f := plan.Finding{
			Kind: plan.Unreachable, Grade: plan.Fault, Step: r.Name(e.Step), Steps: []int{e.Step}, Pos: r.Statements[e.Statement].At,
			Text:    fmt.Sprintf("%s cannot reach its seat: %s passes no opening of %s, even turned and with nothing in the way", r.Who(e), r.sized(e), e.Space.ID),
			Because: r.refusals(e),
			Repairs: r.widenings(e),
		}
		f.Piece = r.Who(e)
		list = append(list, f)
	}
	return list
}

// sized words what goes in, with its size.
func (r *explainer) sized(e *plan.Access) string {
	if e.Wire != nil {
		return fmt.Sprintf("at %s across it", r.MM(*e.Wire.Across))
	}
	s := r.entrySize(e).XYZ
	return fmt.Sprintf("at %s it", r.MM(s[:]...))
}

// entrySize is the size of what goes in, nil if the kit does not give it.
func (r *explainer) entrySize(e *plan.Access) *kits.Size {
	if e.Wire != nil {
		if e.Wire.Across == nil {
			return nil
		}
		a := *e.Wire.Across
		return &kits.Size{XYZ: [3]float64{a, a, a}, Pos: e.Wire.Pos}
	}
	if j := r.Kit.Fitted(e.Piece); j.Size != nil {
		return j.Size
	}
	return r.SizeOf(e.Piece)
}

// refusals says for each opening why the piece does not pass.
func (r *explainer) refusals(e *plan.Access) []plan.Reason {
	list := []plan.Reason{{Text: r.Statements[e.Statement].Text, At: r.Statements[e.Statement].At.String()}}
	for _, w := range e.Routes {
		o := r.Change.OpeningOf(w.Closer.Opening)
		text := fmt.Sprintf("%s has a clear opening of %s; %s clearance is required", r.OpeningName(w.Closer), r.MM(o.W, o.H), r.MM(r.Kit.Clearance))
		list = append(list, plan.ReasonAt(text, w.Closer.Pos, r.CloserNames(w.Closer)...).Blames(r.CloserNames(w.Closer)...))
	}
	return list
}

// widenings proposes openings that, made larger, let the piece in. Each is tried.
func (r *explainer) widenings(e *plan.Access) []plan.Repair {
	number := slices.IndexFunc(r.Access, func(o plan.Access) bool { return o.Space != nil && o.Statement == e.Statement })
	var list []proposal
	for _, w := range e.Routes {
		if c, text := r.widen(e, w); c.Widen != nil {
			list = append(list, proposal{c, enlarge, text})
		}
	}
	return r.try(list, func(c plan.Change) bool {
		after := r.with(c)
		if after.Access[number].Unreachable() {
			return false
		}
		// Other findings may still hold it up, but no new step may get stuck.
		before := r.Outcome().Stuck
		return !slices.ContainsFunc(after.Outcome().Stuck, func(v int) bool {
			_, stuck := slices.BinarySearch(before, v)
			return !stuck && v != e.Step
		})
	})
}

// widen is the change that makes an opening just large enough for the piece to go
// straight in or, where the opening states no axis, to pass by its smaller sides.
func (r *explainer) widen(e *plan.Access, w plan.Route) (plan.Change, string) {
	o, size := w.Closer.Opening, r.entrySize(e)
	if o == nil || size == nil {
		return plan.Change{}, ""
	}
	sides := size.XYZ[:]
	var a, b float64
	if o.Facing != "" {
		a, b = plan.Across(size.XYZ, o.Facing)
	} else {
		s := slices.Sorted(slices.Values(sides))
		a, b = s[0], s[1]
		if (a > b) != (o.W > o.H) {
			a, b = b, a
		}
	}
	to := plan.Clear{W: max(o.W, r.Kit.Unit.UpTo(a+r.Kit.Clearance)), H: max(o.H, r.Kit.Unit.UpTo(b+r.Kit.Clearance)), Facing: o.Facing}
	if to.W == o.W && to.H == o.H {
		return plan.Change{}, ""
	}
	return plan.Change{Widen: o, To: to}, fmt.Sprintf("enlarge %s to at least %s for %s (now %s)", r.openingPhrase(w.Closer), r.MM(to.W, to.H), r.Who(e), r.MM(o.W, o.H))
}

// openingPhrase names an opening in a sentence, with its position in the file.
func (r *explainer) openingPhrase(c kits.Closer) string {
	switch {
	case c.Name != "":
		return fmt.Sprintf("the opening %s at %s", c.Name, c.Pos)
	case c.Piece >= 0:
		return fmt.Sprintf("the opening that %s covers at %s", r.PieceName(c.Piece), c.Pos)
	}
	return fmt.Sprintf("the opening at %s", c.Pos)
}
