package explain

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// Why is what is known of one step: when it is done, and why.
type Why struct {
	Name          string         `json:"name"`                        // the piece, wire or step asked about
	Base          string         `json:"base,omitempty"`              // why no step fits it
	Number        int            `json:"number,omitempty"`            // 0 if there is no proven order
	Step          string         `json:"step,omitempty"`              // name of its step
	Text          string         `json:"text,omitempty"`              // what is done
	Earliest      int            `json:"earliest,omitempty"`          // place that it could take in another order
	Latest        int            `json:"latest,omitempty"`            // place that it could take in another order
	LatestBound   bool           `json:"latest_is_bound,omitempty"`   // it may have to be earlier than latest
	EarliestBound bool           `json:"earliest_is_bound,omitempty"` // it may have to be later than earliest
	After         []plan.Reason  `json:"after"`                       // what comes before it, and why
	Before        []plan.Reason  `json:"before"`                      // what comes after it, and why
	Ways          []string       `json:"ways"`                        // each opening it could go in through
	LastCall      []string       `json:"last_call"`                   // after which step it is out of reach for good
	Findings      []plan.Finding `json:"findings"`                    // that concern it
}

// inquiry answers questions about a project.
type inquiry struct {
	*plan.Project
	*explainer
}

// Fault reports whether any of its findings is a fault.
func (y Why) Fault() bool {
	return slices.ContainsFunc(y.Findings, func(f plan.Finding) bool { return f.Grade == plan.Fault })
}

// Ask explains the steps that a name means: a piece, a part with all its copies,
// a wire, or a named step. The error suggests similar names.
func Ask(p *plan.Project, name string) ([]Why, error) {
	rep := &inquiry{p, &explainer{Constraints: p.Constraints}}
	r := rep.explainer
	for v, s := range r.Steps {
		if said := s.Said(); said.Step == name {
			return []Why{rep.why(name, v, nil)}, nil
		}
	}
	pieces, err := rep.Kit.Named(name)
	if err != nil {
		return nil, err
	}
	var list []Why
	for len(pieces) > 0 {
		j := rep.Kit.Fitted(pieces[0])
		if j == nil {
			list = append(list, rep.whyBase(pieces[0]))
			pieces = pieces[1:]
			continue
		}
		n := 1
		for n < len(pieces) && rep.Kit.Fitted(pieces[n]) == j {
			n++
		}
		list = append(list, rep.why(r.PieceNames(pieces[:n]), r.StepOf(j), pieces[:n]))
		pieces = pieces[n:]
	}
	return list, nil
}

func (rep *inquiry) why(name string, v int, pieces []int) Why {
	r := rep.explainer
	y := Why{Name: name, Step: r.Steps[v].Said().Step, Text: r.Does(v), After: []plan.Reason{}, Before: []plan.Reason{}, Ways: []string{}, LastCall: []string{}, Findings: []plan.Finding{}}
	for _, n := range r.Needs {
		st := r.Statements[n.Statement]
		if n.After == v {
			y.After = appendReason(y.After, plan.ReasonAt(st.Text, st.At))
		}
		if n.Before == v {
			y.Before = appendReason(y.Before, plan.ReasonAt(st.Text, st.At))
		}
	}
	for _, i := range r.AccessOf(v) {
		a := &r.Access[i]
		if pieces != nil && !slices.Contains(pieces, a.Piece) {
			continue
		}
		if a.Learned {
			y.Ways = append(y.Ways, r.Statements[a.Statement].Text+r.inBefore(a.Joins()))
		} else if a.Space != nil {
			y.Ways = append(y.Ways, rep.openings(a)...)
		} else {
			y.Ways = append(y.Ways, rep.travelWays(a)...)
		}
	}
	for _, f := range rep.Findings {
		if rep.Concerns(f, v) {
			y.Findings = append(y.Findings, f)
		}
	}
	if q := rep.Sequence; q != nil {
		f := q.Freedom()
		y.Number, y.Earliest, y.Latest, y.LatestBound, y.EarliestBound = q.Place[v], f.Earliest[v], f.Latest[v], f.Bound[v], f.Loose
		for _, c := range q.CallsOf(r.subjects(v, pieces)) {
			y.LastCall = append(y.LastCall, rep.explain(c))
		}
	}
	return y
}

// subjects are the pieces and the wire whose last calls belong in the answer
// about a step: the given pieces, or all that it fits, and the wire that it
// threads.
func (r *explainer) subjects(v int, pieces []int) ([]int, string) {
	s := r.Steps[v]
	switch {
	case s.Wire != nil:
		return nil, s.Wire.ID
	case pieces == nil:
		return s.Fits(), ""
	}
	return pieces, ""
}

// explain words a last call in the answer about its subject.
func (rep *inquiry) explain(c plan.Call) string {
	q, r := rep.Sequence, rep.explainer
	who := c.Wire
	if c.Piece >= 0 {
		who = r.PieceName(c.Piece)
	}
	at := fmt.Sprintf("step %d, %s,", q.Place[c.Step], r.Name(c.Step))
	switch {
	case c.What == progress.TickPaint:
		return fmt.Sprintf("last call to paint %s: %s shuts it off for good", who, at)
	case c.Space == "":
		return fmt.Sprintf("last call for %s: %s shuts its last way in for good", who, at)
	}
	return fmt.Sprintf("last call for %s: %s shuts its last way into %s for good", who, at, c.Space)
}

func appendReason(list []plan.Reason, one plan.Reason) []plan.Reason {
	if slices.ContainsFunc(list, one.Same) {
		return list
	}
	return append(list, one)
}

func (rep *inquiry) whyBase(p int) Why {
	r := rep.explainer
	name := r.PieceName(p)
	y := Why{Name: name, Base: "no step fits it: it is the base that others are fitted to", After: []plan.Reason{}, Before: []plan.Reason{}, Ways: []string{}, LastCall: []string{}, Findings: []plan.Finding{}}
	if q := rep.Sequence; q != nil {
		for _, c := range q.CallsOf([]int{p}, "") {
			y.LastCall = append(y.LastCall, rep.explain(c))
		}
	}
	for _, c := range r.Closings[p] {
		y.Before = append(y.Before, plan.ReasonAt(r.Name(c)+" names it", r.Steps[c].Pos()))
	}
	for _, f := range rep.Findings {
		if f.Piece == name || slices.Contains(f.Pieces, name) {
			y.Findings = append(y.Findings, f)
		}
	}
	return y
}

// openings words each opening of the space of an access.
func (rep *inquiry) openings(e *plan.Access) []string {
	r := rep.explainer
	var list []string
	for _, w := range e.ShutIn().Routes {
		text := fmt.Sprintf("into %s by %s: %s", e.Space.ID, r.OpeningName(w.Closer), w.Pass)
		if w.Closer.Opening == nil {
			text = fmt.Sprintf("into %s by %s: a whole side", e.Space.ID, r.OpeningName(w.Closer))
		} else if w.Pass != plan.Unsized {
			text += fmt.Sprintf(" (%s through %s, %s spare)", r.sides(e), r.MM(w.Closer.Opening.W, w.Closer.Opening.H), r.MM(r.Kit.Clearance))
		}
		if e.Wire == nil && w.Closer.Opening != nil && r.unsizedUnit(e.Piece) {
			text += ", by the size of " + r.Who(e) + " alone; give size on its join for the unit"
		}
		switch {
		case w.Pass == plan.Cannot:
		case len(w.Blockers) == 0:
			text += ", never covered"
		case w.ShutFromStart():
			text += ", but it sits on that piece itself"
		default:
			text += ", shut by " + rep.shutBy(w)
		}
		list = append(list, text)
	}
	return list
}

// travelWays words the routes past meshes: what blocks each, and from when.
func (rep *inquiry) travelWays(t *plan.Access) []string {
	r := rep.explainer
	var list []string
	for n := range t.Routes[:min(len(t.Routes), maxRoutesTold)] {
		route := &t.Routes[n]
		text := fmt.Sprintf("%s travels toward %s to its seat", r.PieceName(t.Piece), english.Direction(route.Toward()))
		if len(route.Legs) > 1 {
			text = fmt.Sprintf("%s goes to its seat in %d legs, the last toward %s", r.PieceName(t.Piece), len(route.Legs), english.Direction(route.Toward()))
		}
		if route.Undercut > 0 {
			text += fmt.Sprintf(", past an undercut of up to %s", r.MM(geom.Round(route.Undercut, 2)))
		}
		if len(route.Blockers) == 0 {
			list = append(list, text+", where nothing is ever in its way")
			continue
		}
		var first []string
		for _, h := range route.Blockers[:min(len(route.Blockers), maxRoutesTold)] {
			first = append(first, fmt.Sprintf("%s from %s on", r.PieceName(h.Piece), rep.from(h.Joins)))
		}
		if more := len(route.Blockers) - len(first); more > 0 {
			first = append(first, fmt.Sprintf("%d more", more))
		}
		list = append(list, text+"; in its way are "+english.And(first, 8))
	}
	return list
}

// maxRoutesTold bounds the routes of a piece, and the blockers of each, that are
// listed.
const maxRoutesTold = 4

// from names the last of some joins.
func (rep *inquiry) from(shut []int32) string {
	if rep.Sequence == nil {
		var names []string
		for _, v := range shut {
			names = append(names, rep.explainer.Name(int(v)))
		}
		return english.And(names, 8)
	}
	v := rep.Sequence.Latest(shut)
	return fmt.Sprintf("%s (step %d)", rep.explainer.Name(v), rep.Sequence.Place[v])
}

// shutBy names the joins that together shut a way in, with their numbers, and
// says when they can be opened again.
func (rep *inquiry) shutBy(w plan.Route) string {
	r := rep.explainer
	b := &w.Blockers[0]
	var names []string
	for _, v := range b.Joins {
		name := r.Name(int(v))
		if rep.Sequence != nil {
			name += fmt.Sprintf(" (step %d)", rep.Sequence.Place[v])
		}
		names = append(names, name)
	}
	if rep.Sequence != nil && len(b.Joins) > 1 {
		v := rep.Sequence.Latest(b.Joins)
		names = []string{fmt.Sprintf("%s (step %d)", r.Name(v), rep.Sequence.Place[v])}
	}
	text := strings.Join(names, " and ")
	if len(b.Reopens) > 0 {
		var again []string
		for _, v := range b.Reopens {
			again = append(again, r.Name(int(v)))
		}
		text += ", and can be opened again at " + strings.Join(again, " or ")
	}
	return text
}

// unsizedUnit reports whether a piece is built up on the bench to a unit whose size
// the join does not give.
func (r *explainer) unsizedUnit(p int) bool {
	j := r.Kit.Fitted(p)
	if j == nil || !j.Bench || j.Size != nil {
		return false
	}
	return slices.ContainsFunc(r.Kit.Joins, func(o *kits.Join) bool { return len(o.Onto) > 0 && o.Onto[0] == p })
}
