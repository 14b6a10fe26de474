package kits

import (
	"slices"
	"strings"
)

func (v *resolver) wires() {
	holding := v.holding()
	for _, w := range v.kit.Wires {
		w.ID = w.id.Name
		w.From = v.onePiece("from", w.from)
		w.To = v.onePiece("to", w.to)
		w.Through = v.allPieces("through", w.through)
		for _, r := range w.runsIn {
			if s := v.space("runs-in", r); s != nil {
				w.RunsIn = append(w.RunsIn, s)
			}
		}
		w.runInside(holding)
		if w.hole != nil {
			w.Hole, w.HolePos = &w.hole.Value, w.hole.Pos
		}
	}
}

// holding lists the spaces that name each piece among what they hold.
func (v *resolver) holding() map[int][]*Space {
	list := map[int][]*Space{}
	for _, s := range v.kit.Spaces {
		for _, h := range s.Holds {
			list[h.Piece] = append(list[h.Piece], s)
		}
	}
	return list
}

// runInside adds the spaces that hold an end of the wire, or a piece that it is threaded
// through: it runs in them whether the kit says so or not.
func (w *Wire) runInside(holding map[int][]*Space) {
	for _, p := range slices.Concat([]int{w.From, w.To}, w.Through) {
		for _, s := range holding[p] {
			if !slices.Contains(w.RunsIn, s) {
				w.RunsIn = append(w.RunsIn, s)
			}
		}
	}
}

func (v *resolver) tasks() {
	for _, t := range v.kit.Tasks {
		t.Coat = t.coat != ""
	}
}

// steps collects the names of the steps. Parts, wires and steps share one set of
// names, because after and before can mean any of them.
func (v *resolver) steps() {
	v.stepNames = map[string]Target{}
	name := func(r Ref, t Target) {
		if old, twice := v.stepNames[r.Name]; twice {
			v.fault(r.Pos, "step: %q already names the step at %s; choose another name", r.Name, old.Pos)
			return
		}
		if p := v.kit.partOf[r.Name]; p != nil {
			v.fault(r.Pos, "step: %q is the part at %s; after and before could mean either, so choose another name", r.Name, p.Pos)
			return
		}
		t.Ref = r
		v.stepNames[r.Name] = t
		v.known.steps = append(v.known.steps, r.Name)
	}
	own := func(o *Order, t Target) {
		if o.step != nil {
			o.Step = o.step.Name
			name(*o.step, t)
		}
	}
	for _, j := range v.kit.Joins {
		own(&j.Order, Target{Joins: []*Join{j}})
	}
	for _, w := range v.kit.Wires {
		if w.ID != "" {
			name(w.id, Target{Wire: w})
			w.Step = w.ID
		}
	}
	for _, t := range v.kit.Tasks {
		own(&t.Order, Target{Task: t})
	}
	v.known.steps = append(v.known.steps, v.known.parts...)
}

func (v *resolver) order() {
	both := func(o *Order) {
		o.After = v.targets("after", o.after)
		o.Before = v.targets("before", o.before)
	}
	for _, o := range v.kit.orders() {
		both(o)
	}
}

func (v *resolver) targets(key string, refs []Ref) []Target {
	var list []Target
	for _, r := range refs {
		if t, ok := v.stepNames[r.Name]; ok {
			t.Ref = r
			list = append(list, t)
			continue
		}
		part, _, _ := strings.Cut(r.Name, ".")
		if v.kit.partOf[part] == nil {
			v.fault(r.Pos, "%s: no step, wire or piece is called %q%s", key, r.Name, v.Suggest(r.Name, v.known.steps))
			continue
		}
		t := Target{Ref: r}
		seen := map[*Join]bool{}
		for _, p := range v.pieces(key, r) {
			j := v.kit.fitOf[p]
			if j == nil {
				v.fault(r.Pos, "%s: no step fits %s, the base of its group; name a step instead", key, v.kit.Pieces[p].ID)
				continue
			}
			if !seen[j] {
				seen[j] = true
				t.Joins = append(t.Joins, j)
			}
		}
		list = append(list, t)
	}
	return list
}
