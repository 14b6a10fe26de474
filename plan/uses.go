package plan

import (
	"fmt"
	"slices"
	"strings"
)

// wayFindings reports the steps of the order that rely on more than a straight way
// that is still open: turning is a caution, opening something again a note.
func (q *Sequence) wayFindings() []Finding {
	r := q.Solution.Constraints
	var list []Finding
	for i := range r.Entries {
		e := &r.Entries[i]
		if e.unreachable() {
			continue
		}
		best, reopened := q.used(e)
		if best.Pass == ByTurning {
			list = append(list, q.turningFinding(i, best))
		}
		if reopened {
			list = append(list, q.reopenFinding(e, best))
		}
	}
	for i := range r.Travels {
		list = append(list, q.reopenTravel(i)...)
	}
	return list
}

// reopenTravel reports what is in the way of a travel when its turn comes, and must be
// taken off again for it.
func (q *Sequence) reopenTravel(i int) []Finding {
	r := q.Solution.Constraints
	t := &r.Travels[i]
	route := r.Route(i)
	if route == nil {
		return nil
	}
	var list []Finding
	for n, h := range route.Hindrances {
		if slices.ContainsFunc(h.Shut, func(v int32) bool { return q.Place[v] > q.Place[t.Step] }) {
			continue
		}
		st := &r.Statements[r.statementsOf(i)[n]]
		list = append(list, Finding{
			Kind: Reopened, Grade: Note, Piece: r.pieceName(t.Piece), Step: r.name(t.Step), at: st.At,
			Text:    fmt.Sprintf("for %s, which travels toward %s to its seat, %s is taken off again, and put back afterwards", r.pieceName(t.Piece), Axis(route.Toward()), r.pieceName(h.Other)),
			Because: []Reason{because(r.hindered(st), st.At, r.pieceName(t.Piece), r.pieceName(h.Other))},
		})
	}
	return list
}

// used is the best way that the order leaves to an entry, and whether a join must
// be opened again for it.
func (q *Sequence) used(e *Entry) (best Way, reopened bool) {
	grade := -1
	for _, w := range e.Ways {
		if w.Pass == Cannot {
			continue
		}
		shut := !w.Open && !slices.ContainsFunc(w.Shut, func(v int32) bool { return q.Place[v] > q.Place[e.Step] })
		if shut && len(w.Reopens) == 0 {
			continue
		}
		g := 0
		if w.Pass != ByTurning {
			g += 2
		}
		if !shut {
			g++
		}
		if g > grade {
			grade, best, reopened = g, w, shut
		}
	}
	return best, reopened
}

func (q *Sequence) turningFinding(entry int, w Way) Finding {
	r := q.Solution.Constraints
	e := &r.Entries[entry]
	st := r.Statements[e.Statement]
	f := Finding{
		Kind: Turning, Grade: Caution, Piece: r.who(e), Step: r.name(e.Step), at: st.At,
		Text: fmt.Sprintf("%s goes into %s only by turning it in %s (%s): at %s it is too large to go straight in, and no size proves that there is room to turn",
			r.who(e), e.Space.ID, r.wayName(w.Closer), r.mm(w.Closer.Opening.W, w.Closer.Opening.H), r.sides(e)),
	}
	// Why not straight: solve again with nothing but straight ways for this entry.
	allow := slices.Clone(q.Solution.allow)
	allow[entry].Turning = false
	strict := &Solution{Constraints: r, Allowance: Allowance{Reopen: q.Solution.Allowance.Reopen}, System: r.system(allow)}
	strict.Stuck = strict.System.Stuck()
	for _, root := range strict.System.Roots() {
		conflict := strict.System.Conflict(root)
		f.Because = append(f.Because, strict.chain(root, conflict)...)
		f.Repairs = append(f.Repairs, r.try(r.proposals(root, conflict), func(c change) bool {
			after := r.again(c)
			return after.system(allow).Solvable()
		})...)
	}
	return f
}

func (q *Sequence) reopenFinding(e *Entry, w Way) Finding {
	r := q.Solution.Constraints
	var joins []string
	for _, v := range w.Reopens {
		joins = append(joins, r.name(int(v)))
	}
	st := r.Statements[e.Statement]
	return Finding{
		Kind: Reopened, Grade: Note, Piece: r.who(e), Step: r.name(e.Step), at: st.At,
		Text:    fmt.Sprintf("for %s what %s has joined is opened again, and put back afterwards", r.who(e), strings.Join(joins, " or ")),
		Because: []Reason{because(st.Text, st.At)},
	}
}
