package rehearse

import (
	"context"
	"dryfit/kits"
	"dryfit/plan"
	"slices"
)

// Action is one entry of a sequence: a step that is done or, with Off, a join that is
// undone for a while. Doing the step again puts back what was taken off.
type Action struct {
	Step int
	Off  bool
	Pos  kits.Pos // where the sequence says so; zero if it was not read from a file
}

// Reopened is what was undone to let something in, and made again afterwards.
type Reopened struct {
	At    int   // index in the sequence
	Joins []int // in the order in which they were undone
}

// Result is how far a sequence can be followed.
type Result struct {
	Fine     int      // how many actions can be done, from the first
	Failure  *Failure // of the next action; nil if all can be done
	Missing  []int    // steps of the kit that are not done in the sequence, or left undone
	Reopened []Reopened
}

// OK reports whether the sequence builds the whole kit.
func (r *Result) OK() bool { return r.Failure == nil && len(r.Missing) == 0 }

// Actions is a sequence of steps, each done once.
func Actions(order []int) []Action {
	list := make([]Action, len(order))
	for i, v := range order {
		list[i].Step = v
	}
	return list
}

// Walk replays a sequence. The steps are those of the kit; actions name them by their
// index. The geometry may be nil.
func Walk(k *kits.Kit, g *plan.Geometry, steps []plan.Step, sequence []Action) *Result {
	r, _ := newModel(k, g, steps).follow(sequence, 0)
	r.Missing = missing(len(steps), sequence)
	return r
}

// WalkFurther replays like [Walk]; before it says that a piece is blocked, it has ways of
// several legs looked for.
func WalkFurther(ctx context.Context, k *kits.Kit, g *plan.Geometry, steps []plan.Step, sequence []Action) (*Result, error) {
	tried := map[int]bool{}
	for {
		r := Walk(k, g, steps, sequence)
		f := r.Failure
		if f == nil || f.Kind != Blocked || f.alone == nil || g.Further == nil || tried[f.Piece] {
			return r, nil
		}
		tried[f.Piece] = true
		others := slices.DeleteFunc(slices.Clone(f.alone), func(o int) bool { return o == f.Piece })
		if found, err := g.Further(ctx, plan.Stall{Piece: f.Piece, Others: others}); err != nil || !found {
			return r, err
		}
	}
}

// follow does the actions from an index on, until one fails. It returns the model before
// each action that it came to.
func (m *model) follow(sequence []Action, from int) (*Result, []*model) {
	r := &Result{Fine: from}
	var before []*model
	for at := from; at < len(sequence); at++ {
		if m.record {
			before = append(before, m.clone())
		}
		reopened, f := m.act(sequence[at])
		if f != nil {
			r.Failure = f
			break
		}
		if len(reopened) > 0 {
			r.Reopened = append(r.Reopened, Reopened{at, reopened})
		}
		r.Fine++
	}
	return r, before
}

// act does one action, or says why it cannot be done and leaves the model as it was.
func (m *model) act(a Action) (reopened []int, f *Failure) {
	m.work += len(m.fits)
	switch {
	case a.Off:
		f = m.takeOff(a.Step)
	case m.off[a.Step]:
		f = m.putBack(a.Step)
	default:
		reopened, f = m.do(a.Step)
	}
	if f != nil {
		f.Action = a
	}
	return reopened, f
}

// do does a step, and undoes what has to be undone for it.
func (m *model) do(step int) (reopened []int, f *Failure) {
	if f := m.needs(step); f != nil {
		return nil, f
	}
	f = m.reaches(step)
	if f == nil {
		m.make(step)
		return nil, nil
	}
	if f.Kind == TooLarge {
		return nil, f
	}
	return m.reopen(step, f)
}

// missing lists the steps that a sequence does not do, or undoes and does not do again.
func missing(steps int, sequence []Action) []int {
	done := make([]bool, steps)
	for _, a := range sequence {
		done[a.Step] = !a.Off
	}
	var list []int
	for v := range done {
		if !done[v] {
			list = append(list, v)
		}
	}
	return list
}
