package explain

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/precedence"
)

// Bounds on what is tried and reported for one finding, and on the work of all
// tries on one kit, in steps and conditions visited. Beyond it the remaining
// findings get no repairs, and a note says so.
const (
	maxTries   = 60
	maxRepairs = 6
	maxWork    = 3_000_000

	maxProposals = 4 * maxTries
)

// proposal is a change and its wording.
type proposal struct {
	plan.Change
	effort effort
	text   string
}

// repairs tries single changes to the statements of a conflict and returns those
// that free all steps of the root, least effort first.
func (s *outcome) repairs(root precedence.Root, conflict []int) []plan.Repair {
	barred := s.barred()
	frees := func(c plan.Change) bool {
		after := s.with(c)
		if len(after.Groups()) > len(s.Groups()) || !noMore(after.barred(), barred) {
			return false
		}
		stuck := after.Outcome().Stuck
		return len(stuck) < len(s.Stuck) && !slices.ContainsFunc(stuck, func(v int) bool {
			_, before := slices.BinarySearch(s.Stuck, v)
			return within(root, v) || !before
		})
	}
	return s.try(s.proposals(root, conflict), frees)
}

// try keeps the proposals that work, without repetition, least effort first.
func (r *explainer) try(list []proposal, works func(plan.Change) bool) []plan.Repair {
	slices.SortStableFunc(list, func(a, b proposal) int { return int(a.effort - b.effort) })
	var repairs []plan.Repair
	said := map[string]bool{}
	for i, p := range list {
		if i >= maxTries || len(repairs) >= maxRepairs {
			break
		}
		if r.spent > maxWork {
			r.cutShort = true
			break
		}
		if said[p.text] {
			continue
		}
		r.spent += 5*len(r.Steps) + r.Conditions
		ok := works(p.Change)
		if r.tried != nil {
			r.spent += r.tried.Asked() / 60
			r.tried = nil
		}
		if ok {
			said[p.text] = true
			repairs = append(repairs, plan.Repair{Text: p.text, Tried: true})
		}
	}
	return repairs
}

// proposals lists what could be changed about the statements of a conflict.
func (r *explainer) proposals(root precedence.Root, conflict []int) []proposal {
	var list []proposal
	opened := map[*kits.Join]bool{}
	for _, number := range conflict {
		if len(list) > maxProposals {
			break
		}
		switch st := r.Statements[number]; st.Kind {
		case plan.OfOrder:
			list = append(list, dropping(st))
		case plan.OfCoat:
			list = append(list, proposal{plan.Change{Paint: st.Part}, paint,
				fmt.Sprintf("paint %s before fitting (before-fit, or before-close) instead of %s", st.Part.ID, st.Part.Paint)})
		case plan.OfSeat:
			list = append(list, r.seatProposals(st.Join)...)
			list = append(list, r.refits(number, root)...)
		case plan.OfGroup:
			list = append(list, r.detours(number)...)
		case plan.OfMeshes:
			list = append(list, r.travelProposals(&r.Access[st.Access])...)
		case plan.OfSpace:
			e := &r.Access[st.Access]
			list = append(list, r.wayProposals(e, opened)...)
			if e.Wire == nil {
				list = append(list, r.refitsOf(r.Kit.Fitted(e.Piece))...)
			} else {
				list = append(list, r.openRun(e.Wire))
			}
		}
	}
	return list
}

// seatProposals proposes building a piece up on the bench, so that what sits on
// it need not wait.
func (r *explainer) seatProposals(j *kits.Join) []proposal {
	if j.IsClose() || r.Change.IsBench(j) {
		return nil
	}
	return []proposal{{plan.Change{Bench: j}, bench, fmt.Sprintf("build %s up on the bench first: bench: true on the join at %s", r.PieceNames(j.Pieces), j.Pos)}}
}

// refits proposes fitting the pieces that a statement makes wait to something
// else.
func (r *explainer) refits(statement int, root precedence.Root) []proposal {
	var list []proposal
	for _, n := range r.Needs {
		if n.Statement == statement && r.Steps[n.After].Kind == plan.Fit && within(root, n.After) {
			list = append(list, r.refitsOf(r.Steps[n.After].Join)...)
		}
	}
	return list
}

// refitsOf proposes other seats: just one of the present ones, what those sit on,
// or what else closes a space that the piece is in.
func (r *explainer) refitsOf(j *kits.Join) []proposal {
	var list []proposal
	if len(j.Onto) > 1 {
		for _, q := range j.Onto[:min(len(j.Onto), 4)] {
			list = append(list, proposal{plan.Change{Refit: j, Onto: q}, elsewhere,
				fmt.Sprintf("fit %s to %s alone, at %s", r.PieceNames(j.Pieces), r.PieceName(q), j.Pos)})
		}
	}
	for _, q := range r.otherSeats(j) {
		list = append(list, r.refit(j, q))
	}
	return list
}

// maxDetours bounds how many joins of a chain are tried.
const maxDetours = 12

// detours proposes other seats for pieces of a chain of joins that ties pieces
// together, where some of its joins come too late.
func (r *explainer) detours(statement int) []proposal {
	var list []proposal
	seen := 0
	for _, n := range r.Needs {
		if n.Statement == statement && seen == 0 && r.Steps[n.After].Kind == plan.Fit {
			list = append(list, r.refitsOf(r.Steps[n.After].Join)...)
		}
		if n.Statement != statement || r.Steps[n.Before].Kind != plan.Fit {
			continue
		}
		if seen++; seen > maxDetours {
			break
		}
		j := r.Steps[n.Before].Join
		for _, q := range r.otherSeats(j) {
			list = append(list, r.refit(j, q))
		}
	}
	return list
}

// makeOpen proposes a join that opens.
func (r *explainer) makeOpen(j *kits.Join) proposal {
	return proposal{plan.Change{Opens: j}, open,
		fmt.Sprintf("make %s a join that opens, with magnets or screws, at %s", r.Name(r.StepOf(j)), j.Pos)}
}

// dropping proposes dropping an after or before that may not be needed.
func dropping(s plan.Statement) proposal {
	at := s.At
	return proposal{plan.Change{Drop: &at}, sayLess, fmt.Sprintf("drop %q from %s, at %s", s.Order.Name, s.Word, at)}
}

// openRun proposes to state that the holes a wire is pulled through stay open
// when its spaces are shut.
func (r *explainer) openRun(w *kits.Wire) proposal {
	side := 1.0
	if w.Across != nil {
		side = *w.Across
	}
	side += r.Kit.Clearance
	var spaces []string
	for _, s := range w.RunsIn {
		spaces = append(spaces, s.ID)
	}
	return proposal{plan.Change{Run: w}, sayLess, fmt.Sprintf("if the holes on its run stay open, say so in closed-by of %s: {opening: [%s, %s], name: ...}",
		english.And(spaces, 8), r.Kit.Unit.Number(r.Kit.Unit.UpTo(side)), r.Kit.Unit.Number(r.Kit.Unit.UpTo(side)))}
}

func (r *explainer) refit(j *kits.Join, onto int) proposal {
	return proposal{plan.Change{Refit: j, Onto: onto}, elsewhere,
		fmt.Sprintf("fit %s to %s instead of %s, at %s", r.PieceNames(j.Pieces), r.PieceName(onto), r.PieceNames(j.Onto), j.Pos)}
}

// otherSeats lists pieces that a piece could be fitted to instead, so that the
// joins still form a tree.
func (r *explainer) otherSeats(j *kits.Join) []int {
	var list []int
	add := func(q int) {
		if slices.Contains(list, q) || slices.Contains(j.Onto, q) || slices.Contains(j.Pieces, q) || !r.near(j.Pieces[0], q) {
			return
		}
		for _, p := range j.Pieces {
			// q must be on the other side of the join, not on the moving one.
			if !r.Tied(p, q) || !slices.Contains(r.Path(p, q), int32(r.StepOf(j))) {
				return
			}
		}
		list = append(list, q)
	}
	for q := j.Onto[0]; ; {
		up := r.Kit.Fitted(q)
		if up == nil || len(up.Onto) == 0 || len(list) >= 4 {
			break
		}
		q = up.Onto[0]
		add(q)
	}
	for _, p := range j.Pieces {
		for _, s := range r.Kit.Around(p) {
			for _, c := range s.ClosedBy {
				if c.Piece >= 0 && len(list) < 8 {
					add(c.Piece)
				}
			}
		}
	}
	return list
}

// near reports whether one piece could sensibly be fitted to another: they touch, by the
// meshes, or where those are not known they share a space, as what is in it or closes it.
func (r *explainer) near(p, q int) bool {
	if g := r.Geometry; g != nil && g.Measured[p] && g.Measured[q] {
		a, b := min(p, q), max(p, q)
		return slices.ContainsFunc(g.Touching, func(t plan.Touch) bool { return t.A == a && t.B == b }) ||
			slices.ContainsFunc(g.Clashes, func(c plan.Clash) bool { return c.A == a && c.B == b })
	}
	return slices.ContainsFunc(r.Kit.Spaces, func(s *kits.Space) bool { return r.belongs(p, s) && r.belongs(q, s) })
}

// belongs reports whether a piece is in a space or closes it.
func (r *explainer) belongs(p int, s *kits.Space) bool {
	return slices.Contains(r.Kit.Around(p), s) || slices.ContainsFunc(s.ClosedBy, func(c kits.Closer) bool { return c.Piece == p })
}

// wayProposals proposes that a join that shuts a way in opens again, that an
// opening is larger, or that the space has a wall that the file does not name.
// opened holds the joins proposed already.
func (r *explainer) wayProposals(e *plan.Access, opened map[*kits.Join]bool) []proposal {
	var list []proposal
	for _, w := range e.Routes {
		if c, text := r.widen(e, w); c.Widen != nil {
			list = append(list, proposal{c, enlarge, text})
		}
		if w.Pass == plan.Cannot {
			continue
		}
		for _, v := range w.Joins() {
			j := r.Steps[v].Join
			if j != nil && !r.Change.IsOpen(j) && !opened[j] {
				opened[j] = true
				list = append(list, r.makeOpen(j))
			}
		}
	}
	if len(e.Joins()) == 0 && e.Wire == nil {
		list = append(list, r.wallProposals(e)...)
	}
	return list
}

// wallProposals proposes another wall of the space: what the closer under the
// piece is itself fitted to or closed on. Then the piece goes in by that side,
// before the closer is put on.
func (r *explainer) wallProposals(e *plan.Access) []proposal {
	var list []proposal
	for _, w := range e.Routes {
		if w.Closer.Piece < 0 {
			continue
		}
		j := r.Kit.Fitted(w.Closer.Piece)
		var walls []int
		if j != nil {
			walls = r.Change.OntoOf(j)
		}
		for _, c := range r.Closings[w.Closer.Piece] {
			walls = append(walls, r.Steps[c].Join.Pieces...)
		}
		for _, q := range walls {
			if q == w.Closer.Piece || q == e.Piece {
				continue
			}
			text := fmt.Sprintf("if %s is another wall of %s, name it in closed-by at %s", r.PieceName(q), e.Space.ID, e.Space.Pos)
			list = append(list, proposal{plan.Change{Closer: e.Space, Wall: q}, sayLess, text})
			if j != nil && !r.Change.IsBench(j) {
				list = append(list, proposal{plan.Change{Closer: e.Space, Wall: q, Bench: j}, bench,
					fmt.Sprintf("%s, and build %s up on the bench first: bench: true on the join at %s", text, r.PieceNames(j.Pieces), j.Pos)})
			}
		}
	}
	return list
}
