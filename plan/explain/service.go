package explain

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
)

// serviceFindings reports what cannot be reached on the finished model by undoing
// only joins that open.
func (r *explainer) serviceFindings() []plan.Finding {
	var list []plan.Finding
	for _, s := range r.Kit.Service {
		switch reach, stop := r.reach(s); {
		case reach != reached:
			list = append(list, r.serviceFinding(s, reach, stop))
		case !r.checkable(s.Reach):
			list = append(list, plan.NewFinding(plan.Unchecked, plan.Note, fmt.Sprintf("whether %s stays in reach is not checked: it is in no space and has no mesh", r.PieceName(s.Reach))).
				About(r.PieceName(s.Reach)).Placed(s.Pos).Since(r.PieceName(s.Reach)+" must stay in reach on the finished model", s.Pos))
		}
	}
	return list
}

// reachable is how well a service item can be reached.
type reachable int

const (
	shutIn     reachable = iota // every way stays shut, or none is large enough
	blockedIn                   // something that stays is in its way
	heldDown                    // something that does not open spans it
	turnedOnly                  // it passes only when turned
	reached
)

// obstacle is what keeps a service item from being reached.
type obstacle struct {
	entry *plan.Access // the space that stays shut
	join  *kits.Join   // what spans it
	piece int          // what is in its way; -1 for what goes with it

	undone []bool // the joins that can be undone then
}

// checkable reports whether anything is known of the ways to a service item.
func (r *explainer) checkable(piece int) bool {
	j := r.Kit.Fitted(piece)
	return j == nil || r.Geometry != nil && r.Geometry.Measured[piece] ||
		slices.ContainsFunc(r.IntoSpaces(r.StepOf(j)), func(i int) bool { return r.Access[i].Piece == piece })
}

// reach undoes everything else that opens on the finished model, then judges the item:
// one whose join opens comes out with all that is on it; any other is got at, so what is
// fixed to it must not shut it in. Only physical seats count: what was merely asked to
// come later is taken off all the same.
func (r *explainer) reach(s *kits.Service) (reachable, obstacle) {
	j := r.Kit.Fitted(s.Reach)
	if j == nil {
		return reached, obstacle{} // the rest was built around a base
	}
	opens := r.Change.IsOpen(j)
	undone := r.openUp(r.StepOf(j))
	best, stop := reached, obstacle{}
	worse := func(x reachable, o obstacle) {
		// If several spaces stay shut, the outermost is the reason.
		outer := x == best && x == shutIn && o.entry.Space.Depth() < stop.entry.Space.Depth()
		if x < best || outer {
			o.undone = undone
			best, stop = x, o
		}
	}
	for _, i := range r.IntoSpaces(r.StepOf(j)) {
		e := &r.Access[i]
		if e.Piece != s.Reach {
			continue
		}
		if !opens {
			shut := e.ShutIn()
			e = &shut
		}
		switch r.passable(e, undone, s.ByOpening) {
		case plan.Cannot:
			worse(shutIn, obstacle{entry: e})
		case plan.ByTurning:
			worse(turnedOnly, obstacle{entry: e})
		}
	}
	if !opens {
		if by := r.WalledBy(s.Reach, undone); by >= 0 {
			worse(blockedIn, obstacle{piece: by})
		}
		return best, stop
	}
	if by := r.KeptBy(r.StepOf(j), undone); by >= 0 {
		worse(blockedIn, obstacle{piece: by})
	}
	if m := r.spans(r.StepOf(j), undone); m != nil {
		worse(heldDown, obstacle{join: m})
	}
	if best >= turnedOnly && !r.ComesOut(r.StepOf(j), undone) {
		worse(blockedIn, obstacle{piece: -1})
	}
	return best, stop
}

// openUp marks the joins that can be undone on the finished model, but for that of a
// step.
func (r *explainer) openUp(but int) []bool {
	if !r.Change.IsOpen(r.Steps[but].Join) {
		but = -1 // the same for all of these
	}
	if r.undone == nil {
		r.undone = map[int][]bool{}
	}
	if r.undone[but] == nil {
		r.undone[but] = r.TakenApart(but)
	}
	return r.undone[but]
}

// spans returns a join that holds both sides of join v together and is not
// undone, or nil. A wire has slack and holds nothing.
func (r *explainer) spans(v int, undone []bool) *kits.Join {
	for _, m := range r.Spanning(v) {
		if j := r.Steps[m].Join; j != nil && int(m) != v && !undone[m] {
			return j
		}
	}
	return nil
}

// passable is the best way out of one space: through an opening that nothing
// covers, or one that an undone join has opened. by, if any of it names an opening
// of this space, leaves only those.
func (r *explainer) passable(e *plan.Access, undone []bool, by []kits.Ref) plan.Passing {
	best := plan.Cannot
	for _, w := range r.through(e, by) {
		if w.Cleared(undone) {
			best = max(best, w.Pass)
		}
	}
	return best
}

// through lists the routes through the openings that are named, or all if none of them is.
func (r *explainer) through(e *plan.Access, by []kits.Ref) []plan.Route {
	named := slices.DeleteFunc(slices.Clone(e.Routes), func(w plan.Route) bool { return !r.named(w.Closer, by) })
	if len(named) > 0 {
		return named
	}
	return e.Routes
}

// named reports whether one of the names means the opening or the piece that
// covers it.
func (r *explainer) named(c kits.Closer, by []kits.Ref) bool {
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

func (r *explainer) serviceFinding(s *kits.Service, reach reachable, stop obstacle) plan.Finding {
	item := r.PieceName(s.Reach)
	f := plan.Finding{Kind: plan.Serviceable, Grade: plan.Fault, Piece: item, Pos: s.Pos,
		Because: []plan.Reason{plan.ReasonAt(item+" must stay in reach on the finished model", s.Pos)}}
	switch reach {
	case blockedIn:
		if stop.piece < 0 {
			f.Text = fmt.Sprintf("%s cannot be taken out of the finished model: what is fixed on it does not come out with it", item)
			break
		}
		other := r.PieceName(stop.piece)
		f.Text = fmt.Sprintf("%s cannot be reached on the finished model: %s is in its way and does not come off", item, other)
		f.Because = append(f.Because, r.whyStays(stop.piece, stop.undone).Blames(other))
	case heldDown:
		f.Text = fmt.Sprintf("%s cannot be taken out of the finished model: %s is fixed across it", item, r.PieceNames(stop.join.Pieces))
		f.Because = append(f.Because, plan.ReasonAt(r.Name(r.StepOf(stop.join))+" does not open", stop.join.Pos, r.Kit.IDs(stop.join.Pieces)...).Blames(r.Kit.IDs(stop.join.Pieces)...))
	case turnedOnly:
		f.Grade = plan.Caution
		f.Text = fmt.Sprintf("%s comes out of the finished model only by turning it in the opening of %s, which no size proves possible", item, stop.entry.Space.ID)
		f.Because = append(f.Because, r.serviceWays(stop, s.ByOpening)...)
	default:
		f.Text = fmt.Sprintf("%s cannot be reached on the finished model: no way into %s can be opened again that lets it pass", item, stop.entry.Space.ID)
		f.Because = append(f.Because, r.serviceWays(stop, s.ByOpening)...)
	}
	f.Repairs = r.try(r.serviceProposals(stop), func(c plan.Change) bool {
		after := r.with(c)
		got, _ := after.reach(s)
		return got == reached && len(after.Outcome().Stuck) <= len(r.Outcome().Stuck)
	})
	return f
}

// serviceWays says why each opening does not help.
func (r *explainer) serviceWays(stop obstacle, by []kits.Ref) []plan.Reason {
	e, undone := stop.entry, stop.undone
	var list []plan.Reason
	for _, w := range r.through(e, by) {
		text := r.OpeningName(w.Closer)
		switch {
		case w.Pass == plan.Cannot || w.Pass == plan.ByTurning:
			text += fmt.Sprintf(" (%s): %s, at %s with %s spare", r.MM(w.Closer.Opening.W, w.Closer.Opening.H), w.Pass, r.sides(e), r.MM(r.Kit.Clearance))
		case !w.Cleared(undone):
			text += " stays shut: " + r.whyShut(w, undone)
		default:
			continue
		}
		list = append(list, plan.ReasonAt(text, w.Closer.Pos, r.CloserNames(w.Closer)...).Blames(r.CloserNames(w.Closer)...))
	}
	return list
}

func (r *explainer) sides(e *plan.Access) string {
	s := r.entrySize(e).XYZ
	return r.MM(s[:]...)
}

// whyShut says what keeps a way shut.
func (r *explainer) whyShut(w plan.Route, undone []bool) string {
	if w.ShutFromStart() {
		return "it is part of what the piece sits on"
	}
	var held, firm []string
	for _, v := range w.Joins() {
		name := r.Name(int(v))
		switch m := r.spans(int(v), undone); {
		case !r.Change.IsOpen(r.Steps[v].Join):
			firm = append(firm, name)
		case m != nil:
			held = append(held, fmt.Sprintf("%s opens, but %s is fixed across it", name, r.PieceNames(m.Pieces)))
		default:
			held = append(held, name+" opens, but is itself shut in")
		}
	}
	if len(held) > 0 {
		return strings.Join(held, "; ") // any one of them would do, so the permanent ones do not matter
	}
	return strings.Join(firm, ", ") + map[bool]string{true: " does not open", false: " do not open"}[len(firm) == 1]
}

// whyStays says why a piece does not come off the finished model.
func (r *explainer) whyStays(piece int, undone []bool) plan.Reason {
	j := r.Kit.Fitted(piece)
	if j == nil {
		return plan.ReasonAt(r.PieceName(piece)+" is the base that others are fitted to", r.Kit.Pieces[piece].Part.Pos, r.PieceName(piece))
	}
	text := r.Name(r.StepOf(j))
	by := r.KeptBy(r.StepOf(j), undone)
	switch {
	case !r.Change.IsOpen(j):
		text += " does not open"
	case by >= 0:
		text += fmt.Sprintf(" opens, but %s is in the way of taking it off", r.PieceName(by))
	default:
		text += " opens, but is itself shut in"
	}
	return plan.ReasonAt(text, j.Pos, r.PieceName(piece))
}

// freeing proposes that whatever keeps a piece on opens, or what keeps that on.
func (r *explainer) freeing(piece int, undone []bool) []proposal {
	var list []proposal
	seen := map[int]bool{}
	for piece >= 0 && !seen[piece] {
		seen[piece] = true
		j := r.Kit.Fitted(piece)
		if j == nil {
			break
		}
		if !r.Change.IsOpen(j) {
			list = append(list, r.makeOpen(j))
			break
		}
		piece = r.KeptBy(r.StepOf(j), undone)
	}
	return list
}

func (r *explainer) serviceProposals(stop obstacle) []proposal {
	if stop.entry == nil && stop.join == nil {
		return r.freeing(stop.piece, stop.undone)
	}
	if stop.join != nil {
		return append([]proposal{r.makeOpen(stop.join)}, r.refitsOf(stop.join)...)
	}
	var list []proposal
	for _, w := range stop.entry.Routes {
		if c, text := r.widen(stop.entry, w); c.Widen != nil {
			list = append(list, proposal{c, enlarge, text})
		}
		for _, v := range w.Joins() {
			j := r.Steps[v].Join
			if m := r.spans(int(v), stop.undone); r.Change.IsOpen(j) && m != nil {
				j = m
				list = append(list, r.refitsOf(m)...)
			}
			switch {
			case j == nil:
			case !r.Change.IsOpen(j):
				list = append(list, r.makeOpen(j))
			case !stop.undone[v]:
				list = append(list, r.freeingFromSpaces(int(v))...)
			}
		}
	}
	return list
}

// freeingFromSpaces proposes that what shuts in a join that opens does so as well.
func (r *explainer) freeingFromSpaces(step int) []proposal {
	var list []proposal
	for _, i := range r.IntoSpaces(step) {
		for _, w := range r.Access[i].Routes {
			for _, v := range w.Joins() {
				if j := r.Steps[v].Join; !r.Change.IsOpen(j) {
					list = append(list, r.makeOpen(j))
				}
			}
		}
	}
	return list
}
