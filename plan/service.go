package plan

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
)

// serviceFindings reports what cannot be reached on the finished model by undoing
// joins that open, only.
func (r *Constraints) serviceFindings() []Finding {
	var list []Finding
	for _, s := range r.Kit.Service {
		if reach, stop := r.reach(s); reach != reached {
			list = append(list, r.serviceFinding(s, reach, stop))
		}
	}
	return list
}

// reachable is how a service item can be got at.
type reachable int

const (
	shutIn     reachable = iota // every way stays shut, or none is large enough
	heldDown                    // something that does not open spans it
	turnedOnly                  // it passes only when turned
	reached
)

// obstacle is what keeps a service item from being reached.
type obstacle struct {
	entry *Access    // the space that stays shut
	join  *kits.Join // what spans it
}

// reach takes apart all that opens on the finished model and then looks at the
// item. Only what physically sits on something counts: what was asked to come
// later is taken off all the same.
func (r *Constraints) reach(s *kits.Service) (reachable, obstacle) {
	undone := r.openUp()
	best, stop := reached, obstacle{}
	worse := func(x reachable, o obstacle) {
		// Of several spaces that stay shut the outermost is the reason.
		outer := x == best && x == shutIn && o.entry.Space.Depth() < stop.entry.Space.Depth()
		if x < best || outer {
			best, stop = x, o
		}
	}
	j := r.Kit.Fitted(s.Reach)
	if j == nil {
		return reached, stop // a base is what the rest was put around
	}
	for _, i := range r.intoSpaces(r.number.join[j]) {
		e := &r.Access[i]
		if e.Piece != s.Reach {
			continue
		}
		switch r.passable(e, undone, s.ByOpening) {
		case Cannot:
			worse(shutIn, obstacle{entry: e})
		case ByTurning:
			worse(turnedOnly, obstacle{entry: e})
		}
	}
	if r.change.isOpen(j) {
		if m := r.spans(r.number.join[j], undone); m != nil {
			worse(heldDown, obstacle{join: m})
		}
	}
	return best, stop
}

// openUp undoes the joins that open, for as long as one more can be undone.
func (r *Constraints) openUp() []bool {
	if r.undone != nil {
		return r.undone
	}
	undone := make([]bool, len(r.Steps))
	for more := true; more; {
		more = false
		for _, j := range r.Kit.Joins {
			v := r.number.join[j]
			if undone[v] || !r.change.isOpen(j) || r.spans(v, undone) != nil || !r.comesOut(v, undone) {
				continue
			}
			undone[v], more = true, true
		}
	}
	r.undone = undone
	return undone
}

// spans returns a join that holds both sides of join v together and is not undone,
// or nil. A wire threaded through has slack and holds nothing.
func (r *Constraints) spans(v int, undone []bool) *kits.Join {
	for _, m := range r.bridge[v] {
		if m >= 0 && int(m) != v && !undone[m] {
			return r.Steps[m].Join
		}
	}
	return nil
}

// comesOut reports whether the pieces of a join have an open way out of every
// space they are in.
func (r *Constraints) comesOut(v int, undone []bool) bool {
	for _, i := range r.intoSpaces(v) {
		if r.passable(&r.Access[i], undone, nil) == Cannot {
			return false
		}
	}
	return true
}

// passable is the best way out of one space: through an opening that nothing
// covers, or one that an undone join has opened. by, if any of it names an opening
// of this space, leaves only those.
func (r *Constraints) passable(e *Access, undone []bool, by []kits.Ref) Passing {
	chosen := slices.ContainsFunc(e.Routes, func(w Route) bool { return r.named(w.Closer, by) })
	best := Cannot
	for _, w := range e.Routes {
		if chosen && !r.named(w.Closer, by) {
			continue
		}
		if w.cleared(undone) {
			best = max(best, w.Pass)
		}
	}
	return best
}

// named reports whether one of the names means the opening or the piece that
// covers it.
func (r *Constraints) named(c kits.Closer, by []kits.Ref) bool {
	return slices.ContainsFunc(by, func(ref kits.Ref) bool {
		if c.Name == ref.Name {
			return true
		}
		if c.Piece < 0 {
			return false
		}
		p := r.Kit.Pieces[c.Piece]
		return p.ID == ref.Name || p.Part.ID == ref.Name
	})
}

func (r *Constraints) serviceFinding(s *kits.Service, reach reachable, stop obstacle) Finding {
	item := r.pieceName(s.Reach)
	f := Finding{Kind: Serviceable, Grade: Fault, Piece: item, at: s.Pos,
		Because: []Reason{because(item+" must stay in reach on the finished model", s.Pos)}}
	switch reach {
	case heldDown:
		f.Text = fmt.Sprintf("%s cannot be taken out of the finished model: %s is fixed across it", item, r.pieceNames(stop.join.Pieces))
		f.Because = append(f.Because, because(r.name(r.number.join[stop.join])+" does not open", stop.join.Pos, r.eachName(stop.join.Pieces)...))
	case turnedOnly:
		f.Grade = Caution
		f.Text = fmt.Sprintf("%s comes out of the finished model only by turning it in the opening of %s, which no size proves possible", item, stop.entry.Space.ID)
		f.Because = append(f.Because, r.serviceWays(stop.entry, s.ByOpening)...)
	default:
		f.Text = fmt.Sprintf("%s cannot be reached on the finished model: no way into %s can be opened again that lets it pass", item, stop.entry.Space.ID)
		f.Because = append(f.Because, r.serviceWays(stop.entry, s.ByOpening)...)
	}
	f.Repairs = r.try(r.serviceProposals(s, stop), func(c change) bool {
		after := r.again(c)
		got, _ := after.reach(s)
		return got == reached && len(after.solve().Stuck) <= len(r.solve().Stuck)
	})
	return f
}

// serviceWays says of each opening why it does not help.
func (r *Constraints) serviceWays(e *Access, by []kits.Ref) []Reason {
	undone := r.openUp()
	chosen := slices.ContainsFunc(e.Routes, func(w Route) bool { return r.named(w.Closer, by) })
	var list []Reason
	for _, w := range e.Routes {
		if chosen && !r.named(w.Closer, by) {
			continue
		}
		text := r.wayName(w.Closer)
		switch {
		case w.Pass == Cannot || w.Pass == ByTurning:
			text += fmt.Sprintf(" (%s): %s, at %s with %s spare", r.mm(w.Closer.Opening.W, w.Closer.Opening.H), w.Pass, r.sides(e), r.mm(r.Kit.Clearance))
		case !w.cleared(undone):
			text += " stays shut: " + r.whyShut(w)
		default:
			continue
		}
		list = append(list, because(text, w.Closer.Pos, r.closerNames(w.Closer)...))
	}
	return list
}

func (r *Constraints) sides(e *Access) string {
	s := r.entrySize(e).XYZ
	return r.mm(s[:]...)
}

// whyShut says what keeps a way shut.
func (r *Constraints) whyShut(w Route) string {
	if w.shutFromStart() {
		return "it is part of what the piece sits on"
	}
	var held, firm []string
	for _, v := range w.joins() {
		name := r.name(int(v))
		switch m := r.spans(int(v), r.openUp()); {
		case !r.change.isOpen(r.Steps[v].Join):
			firm = append(firm, name)
		case m != nil:
			held = append(held, fmt.Sprintf("%s opens, but %s is fixed across it", name, r.pieceNames(m.Pieces)))
		default:
			held = append(held, name+" opens, but is itself shut in")
		}
	}
	if len(held) > 0 {
		return strings.Join(held, "; ") // any one of them would do, so the firm ones do not matter
	}
	return strings.Join(firm, ", ") + map[bool]string{true: " does not open", false: " do not open"}[len(firm) == 1]
}

func (r *Constraints) serviceProposals(s *kits.Service, stop obstacle) []proposal {
	if stop.join != nil {
		return append([]proposal{r.makeOpen(stop.join)}, r.refitsOf(stop.join)...)
	}
	var list []proposal
	for _, w := range stop.entry.Routes {
		if c, text := r.widen(stop.entry, w); c.widen != nil {
			list = append(list, proposal{c, enlarge, text})
		}
		for _, v := range w.joins() {
			j := r.Steps[v].Join
			if m := r.spans(int(v), r.openUp()); r.change.isOpen(j) && m != nil {
				j = m
				list = append(list, r.refitsOf(m)...)
			}
			if !r.change.isOpen(j) {
				list = append(list, r.makeOpen(j))
			}
		}
	}
	return list
}
