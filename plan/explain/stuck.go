package explain

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/precedence"
)

// stuckFindings explains why there is no order: one finding for each root, and
// one that counts the steps that merely wait behind them.
func (s *outcome) stuckFindings() []plan.Finding {
	roots := s.System.Roots()
	if len(roots) == 0 {
		return nil
	}
	var list []plan.Finding
	in := 0
	rings := s.needsAlone().Roots()
	for _, root := range roots {
		in += len(root.Steps)
		if i := slices.IndexFunc(rings, func(ring precedence.Root) bool { return within(root, ring.Steps[0]) }); i >= 0 {
			list = append(list, s.cycleFinding(rings[i]))
			continue
		}
		list = append(list, s.rootFinding(root))
	}
	if behind := len(s.Stuck) - in; behind > 0 {
		list = append(list, plan.Finding{Kind: plan.Behind, Grade: plan.Note, Pos: kits.Pos{},
			Text: fmt.Sprintf("%s only behind these faults; fixing them frees them", waits(behind))})
	}
	return list
}

func waits(n int) string {
	if n == 1 {
		return "1 more step waits"
	}
	return fmt.Sprintf("%d more steps wait", n)
}

func (s *outcome) rootFinding(root precedence.Root) plan.Finding {
	r := s.explainer
	conflict := s.System.Conflict(root)
	f := plan.Finding{Grade: plan.Fault, Because: s.chain(root, conflict), Repairs: s.repairs(root, conflict)}
	trapped, own, past := s.trapped(root, conflict)
	if len(trapped) == 0 {
		return s.blockedRoot(f, past)
	}
	first := &r.Access[trapped[0]]
	f.Kind, f.Step, f.Steps, f.Pos = plan.Trapped, r.Name(first.Step), []int{first.Step}, r.Statements[first.Statement].At
	names := r.whoAll(trapped)
	if f.Piece = names[0]; len(names) > 1 {
		f.Pieces = names
	}
	all := r.byPart(names, names)
	head := r.byPart(r.whoAll(trapped[:max(own, 1)]), names)
	verb := "fitted"
	if first.Wire != nil {
		verb = "threaded"
	}
	f.Text = fmt.Sprintf("%s cannot be %s in any order: each way into %s is shut before its turn", english.And(head, 8), verb, first.Space.ID)
	if len(first.Joins()) == 0 {
		head = r.byPart(names[:1], names)
		f.Text = fmt.Sprintf("%s cannot be fitted: it sits on what closes %s, and nothing else is listed as closing it", english.And(head, 8), first.Space.ID)
	}
	var rest []string
	for _, n := range all {
		if !slices.Contains(head, n) {
			rest = append(rest, n)
		}
	}
	if len(rest) > 0 {
		f.Text += "; caught with it: " + english.And(rest, 8)
	}
	return f
}

// byPart names pieces for a sentence: those of a part whose copies are all among some
// others by the part, once.
func (r *explainer) byPart(names, among []string) []string {
	var list []string
	for _, n := range names {
		if found, err := r.Kit.Named(n); err == nil && len(found) == 1 {
			part := r.Kit.Pieces[found[0]].Part
			copies := r.Kit.IDs(r.Kit.Copies(part))
			if len(copies) > 1 && !slices.ContainsFunc(copies, func(c string) bool { return !slices.Contains(among, c) }) {
				n = fmt.Sprintf("%s (%d copies)", part.ID, len(copies))
			}
		}
		if !slices.Contains(list, n) {
			list = append(list, n)
		}
	}
	return list
}

// needsAlone is the system of the needs without any accesses. What is stuck in it
// waits for itself, no matter what is open.
func (r *explainer) needsAlone() *precedence.System {
	alone := precedence.New(len(r.Steps))
	for _, n := range r.Needs {
		alone.Need(n.Before, n.After, n.Statement)
	}
	return alone
}

// cycleFinding reports steps that wait for one another by their needs alone.
// Pieces that are shut out because of it wait behind it, and are judged once it
// is broken.
func (s *outcome) cycleFinding(ring precedence.Root) plan.Finding {
	r := s.explainer
	conflict := s.needsAlone().Conflict(ring)
	steps := r.around(ring, conflict)
	f := plan.Finding{
		Kind: plan.Cycle, Grade: plan.Fault, Step: r.Name(steps[0]), Steps: steps, Pos: r.Statements[conflict[0]].At,
		Text:    fmt.Sprintf("%s wait for one another, so none can be first", r.stepNames(steps)),
		Because: s.chain(ring, conflict), Repairs: s.repairs(ring, conflict),
	}
	if len(steps) == 1 {
		f.Text = fmt.Sprintf("%s waits for itself", r.stepNames(steps))
	}
	return f
}

// around lists the steps of a cycle: those that the conflict's statements put
// both before and after others.
func (r *explainer) around(ring precedence.Root, conflict []int) []int {
	before, after := map[int]bool{}, map[int]bool{}
	for _, n := range r.Needs {
		if slices.Contains(conflict, n.Statement) && within(ring, n.Before) && within(ring, n.After) {
			before[n.Before], after[n.After] = true, true
		}
	}
	return slices.DeleteFunc(slices.Clone(ring.Steps), func(v int) bool { return !before[v] || !after[v] })
}

// whoAll names the pieces and wires of accesses, each once.
func (r *explainer) whoAll(list []int) []string {
	var names []string
	for _, i := range list {
		if name := r.Who(&r.Access[i]); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

func (r *explainer) stepNames(steps []int) string {
	names := make([]string, len(steps))
	for i, s := range steps {
		names[i] = r.Name(s)
	}
	return english.And(names, 8)
}

// trapped lists the accesses of a root with an unmet clause: those into spaces,
// the first own of which are part of the conflict, inner spaces first, and those
// past meshes that the conflict names.
func (s *outcome) trapped(root precedence.Root, conflict []int) (into []int, own int, past []int) {
	r := s.explainer
	var others []int
	for i := range r.Access {
		a := &r.Access[i]
		if !slices.Contains(root.Trapped, a.Step) {
			continue
		}
		unmet, named := false, false
		r.EachClause(i, s.Relaxation, func(oneOf []int, statement int) {
			unmet = unmet || s.unmet(oneOf)
			named = named || slices.Contains(conflict, statement)
		})
		switch {
		case !unmet:
		case named && a.Space == nil:
			past = append(past, i)
		case named:
			into = append(into, i)
		case a.Space != nil:
			others = append(others, i)
		}
	}
	slices.SortStableFunc(into, func(a, b int) int { return r.Access[b].Space.Depth() - r.Access[a].Space.Depth() })
	return append(into, others...), len(into), past
}

// unmet reports whether every step that would meet a clause is stuck.
func (s *outcome) unmet(oneOf []int) bool {
	return !slices.ContainsFunc(oneOf, func(v int) bool {
		_, stuck := slices.BinarySearch(s.Stuck, v)
		return !stuck
	})
}

// chain words a conflict so that each line starts where the last one ended,
// following each step to the one it must come before.
func (s *outcome) chain(root precedence.Root, conflict []int) []plan.Reason {
	r := s.explainer
	next := map[int][]int{} // step -> statements that put it before another
	to := map[int][]int{}   // statement -> the steps it is put before
	for _, n := range r.Needs {
		if slices.Contains(conflict, n.Statement) && within(root, n.Before) && within(root, n.After) {
			next[n.Before] = append(next[n.Before], n.Statement)
			to[n.Statement] = append(to[n.Statement], n.After)
		}
	}
	for i := range r.Access {
		r.EachClause(i, s.Relaxation, func(oneOf []int, statement int) {
			if slices.Contains(conflict, statement) {
				step := r.Access[i].Step
				next[step] = append(next[step], statement)
				to[statement] = append(to[statement], oneOf...)
			}
		})
	}
	var list []plan.Reason
	said, seen := map[int]bool{}, map[int]bool{}
	var follow func(step int)
	follow = func(step int) {
		if seen[step] {
			return
		}
		seen[step] = true
		for _, st := range next[step] {
			if !said[st] {
				said[st] = true
				list = append(list, plan.ReasonAt(s.reason(st), r.Statements[st].At, r.about(st, append([]int{step}, to[st]...))...).Blames(r.inTheWay(st)...))
			}
			for _, after := range to[st] {
				follow(after)
			}
		}
	}
	for _, v := range append(slices.Clone(root.Trapped), root.Steps...) {
		follow(v)
	}
	return list
}

// about lists the fitted pieces that a statement puts before one another.
func (r *explainer) about(statement int, steps []int) []string {
	var list []string
	add := func(p int) {
		if name := r.PieceName(p); !slices.Contains(list, name) {
			list = append(list, name)
		}
	}
	if st := &r.Statements[statement]; st.Kind == plan.OfMeshes {
		a := &r.Access[st.Access]
		b := &a.Routes[st.Route].Blockers[st.Blocker]
		for _, p := range []int{a.Piece, b.Mover, b.Piece} {
			add(p)
		}
		return list
	}
	for _, v := range steps {
		if j := r.Steps[v].Join; j != nil {
			for _, p := range j.Pieces {
				add(p)
			}
		}
	}
	return list
}

// inTheWay lists the pieces that a statement finds in the way: those that shut a space, or
// past which a piece would have to travel.
func (r *explainer) inTheWay(statement int) []string {
	var list []string
	st := &r.Statements[statement]
	switch st.Kind {
	case plan.OfMeshes:
		list = append(list, r.PieceName(r.Access[st.Access].Routes[st.Route].Blockers[st.Blocker].Piece))
	case plan.OfSpace:
		for _, t := range r.Access[st.Access].Routes {
			for _, b := range t.Blockers {
				if name := r.PieceName(b.Piece); !slices.Contains(list, name) {
					list = append(list, name)
				}
			}
		}
	}
	return list
}

func within(root precedence.Root, step int) bool {
	_, in := slices.BinarySearch(root.Steps, step)
	return in
}

// reason words one statement of a conflict; for an access into a space it says
// what each opening has to do with it.
func (s *outcome) reason(statement int) string {
	r := s.explainer
	st := &r.Statements[statement]
	if st.Kind == plan.OfMeshes {
		return r.hindered(st)
	}
	if st.Kind != plan.OfSpace {
		return st.Text
	}
	a := &r.Access[st.Access]
	var shut []string
	r.EachClause(st.Access, s.Relaxation, func(oneOf []int, _ int) {
		for _, v := range oneOf {
			shut = append(shut, r.Name(v))
		}
	})
	text := st.Text + inBefore(shut)
	sits := map[string]bool{}
	for _, w := range a.Routes {
		switch {
		case w.Pass == plan.Cannot:
			text += fmt.Sprintf("; it does not pass %s (%s)", r.OpeningName(w.Closer), r.MM(w.Closer.Opening.W, w.Closer.Opening.H))
		case w.ShutFromStart() && !sits[r.OpeningName(w.Closer)]:
			sits[r.OpeningName(w.Closer)] = true
			text += fmt.Sprintf("; it sits on %s itself", r.OpeningName(w.Closer))
		}
	}
	return text
}
