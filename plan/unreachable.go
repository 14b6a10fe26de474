package plan

import (
	"fmt"
	"slices"

	"dryfit/kits"
)

// unreachableFindings reports what passes no opening of its space even with
// nothing in the way.
func (r *Constraints) unreachableFindings() []Finding {
	var list []Finding
	for i := range r.Access {
		e := &r.Access[i]
		if e.Space == nil || !e.unreachable() {
			continue
		}
		f := Finding{
			Kind: Unreachable, Grade: Fault, Step: r.name(e.Step), at: r.Statements[e.Statement].At,
			Text:    fmt.Sprintf("%s cannot reach its seat: %s passes no opening of %s, even turned and with nothing in the way", r.who(e), r.sized(e), e.Space.ID),
			Because: r.refusals(e),
			Repairs: r.widenings(e),
		}
		f.Piece = r.who(e)
		list = append(list, f)
	}
	return list
}

// sized is what is passed through, with its size.
func (r *Constraints) sized(e *Access) string {
	if e.Wire != nil {
		return fmt.Sprintf("at %s across it", r.mm(*e.Wire.Across))
	}
	s := r.entrySize(e).XYZ
	return fmt.Sprintf("at %s it", r.mm(s[:]...))
}

// entrySize is the size of what goes in, nil if the kit does not give it.
func (r *Constraints) entrySize(e *Access) *kits.Size {
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
	return r.sizeOf(e.Piece)
}

// refusals says for each opening why the piece does not pass.
func (r *Constraints) refusals(e *Access) []Reason {
	list := []Reason{{Text: r.Statements[e.Statement].Text, At: r.Statements[e.Statement].At.String()}}
	for _, w := range e.Routes {
		o := r.change.openingOf(w.Closer.Opening)
		text := fmt.Sprintf("%s leaves %s, and %s spare is asked for", r.wayName(w.Closer), r.mm(o.w, o.h), r.mm(r.Kit.Clearance))
		list = append(list, because(text, w.Closer.Pos, r.closerNames(w.Closer)...))
	}
	return list
}

// widenings are the openings that, made larger, let the piece in: each is tried.
func (r *Constraints) widenings(e *Access) []Repair {
	number := slices.IndexFunc(r.Access, func(o Access) bool { return o.Space != nil && o.Statement == e.Statement })
	var list []proposal
	for _, w := range e.Routes {
		if c, text := r.widen(e, w); c.widen != nil {
			list = append(list, proposal{c, enlarge, text})
		}
	}
	return r.try(list, func(c change) bool {
		after := r.again(c)
		if after.Access[number].unreachable() {
			return false
		}
		// Other findings may still keep it from its turn, but no new step may get stuck.
		before := r.solve().Stuck
		return !slices.ContainsFunc(after.solve().Stuck, func(v int) bool {
			_, stuck := slices.BinarySearch(before, v)
			return !stuck && v != e.Step
		})
	})
}

// widen is the change that makes an opening just large enough for the piece to go
// straight in or, where the opening states no axis, to pass by its smaller sides.
func (r *Constraints) widen(e *Access, w Route) (change, string) {
	o, size := w.Closer.Opening, r.entrySize(e)
	if o == nil || size == nil {
		return change{}, ""
	}
	sides := size.XYZ[:]
	var a, b float64
	if o.Facing != "" {
		a, b = across(sides, o.Facing)
	} else {
		s := slices.Sorted(slices.Values(sides))
		a, b = s[0], s[1]
		if (a > b) != (o.W > o.H) {
			a, b = b, a
		}
	}
	to := opening{max(o.W, r.Kit.Unit.UpTo(a+r.Kit.Clearance)), max(o.H, r.Kit.Unit.UpTo(b+r.Kit.Clearance)), o.Facing}
	if to.w == o.W && to.h == o.H {
		return change{}, ""
	}
	return change{widen: o, to: to}, fmt.Sprintf("enlarge %s to at least %s for %s (now %s)", r.openingPhrase(w.Closer), r.mm(to.w, to.h), r.who(e), r.mm(o.W, o.H))
}

// openingPhrase names an opening in a sentence, with its place in the file.
func (r *Constraints) openingPhrase(c kits.Closer) string {
	switch {
	case c.Name != "":
		return fmt.Sprintf("the opening %s at %s", c.Name, c.Pos)
	case c.Piece >= 0:
		return fmt.Sprintf("the opening that %s covers at %s", r.pieceName(c.Piece), c.Pos)
	}
	return fmt.Sprintf("the opening at %s", c.Pos)
}
