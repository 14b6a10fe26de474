package plan

import (
	"slices"
	"time"

	"dryfit/kits"
	"dryfit/kits/english"
)

// Kind of a step.
type Kind string

// The kinds of steps, as named in JSON.
const (
	Fit    Kind = "fit"
	Close  Kind = "close"
	Thread Kind = "thread"
	Task   Kind = "task"
)

// Step is one action of the build. Exactly one of Join, Wire and Task is set.
// Callers ask its methods what it moves, works on or is made with; only code that
// words or draws steps distinguishes the kinds.
type Step struct {
	Kind Kind
	Join *kits.Join
	Wire *kits.Wire
	Task *kits.Task
}

// steps lists the steps of a kit: the joins, then the wires, then the tasks, each
// in the order of the file.
func steps(k *kits.Kit) []Step {
	list := make([]Step, 0, len(k.Joins)+len(k.Wires)+len(k.Tasks))
	for _, j := range k.Joins {
		kind := Fit
		if j.IsClose() {
			kind = Close
		}
		list = append(list, Step{Kind: kind, Join: j})
	}
	for _, w := range k.Wires {
		list = append(list, Step{Kind: Thread, Wire: w})
	}
	for _, t := range k.Tasks {
		list = append(list, Step{Kind: Task, Task: t})
	}
	return list
}

// Said is what the kit states about any step.
func (s Step) Said() *kits.Order {
	switch s.Kind {
	case Thread:
		return &s.Wire.Order
	case Task:
		return &s.Task.Order
	}
	return &s.Join.Order
}

// Pos is the position of the step in the file.
func (s Step) Pos() kits.Pos { return s.Said().Pos }

// Note is the designer's note on the step; empty if there is none.
func (s Step) Note() string { return s.Said().Note }

// Takes is the hands-on time of the step; 0 if the file does not say.
func (s Step) Takes() time.Duration { return s.Said().Takes }

// ID is the name that the file gives the step: the id of a wire, or the step's own name;
// empty if it has none.
func (s Step) ID() string {
	if s.Kind == Thread {
		return s.Wire.ID
	}
	return s.Said().Step
}

// Fits lists the pieces that the step puts in place; none for other kinds.
func (s Step) Fits() []int {
	if s.Kind == Fit {
		return s.Join.Pieces
	}
	return nil
}

// Pieces lists the pieces that a fit puts in place or a closing joins.
func (s Step) Pieces() []int {
	if s.Join != nil {
		return s.Join.Pieces
	}
	return nil
}

// Movers lists the pieces that travel: those that are fitted, or the second of a closing.
func (s Step) Movers() []int {
	if s.Kind == Close {
		return s.Join.Pieces[1:]
	}
	return s.Fits()
}

// Base is the piece that stays still: what is fitted to, the first of a closing,
// where a wire begins; -1 for a task.
func (s Step) Base() int {
	switch s.Kind {
	case Fit:
		return s.Join.Onto[0]
	case Close:
		return s.Join.Pieces[0]
	case Thread:
		return s.Wire.From
	}
	return -1
}

// To lists the pieces that are fitted to, or that a wire runs along from end to end.
func (s Step) To() []int {
	switch {
	case s.Join != nil:
		return s.Join.Onto
	case s.Wire != nil:
		return slices.Concat([]int{s.Wire.From}, s.Wire.Through, []int{s.Wire.To})
	}
	return nil
}

// InHand lists all pieces that the step works on.
func (s Step) InHand() []int { return slices.Concat(s.Pieces(), s.To()) }

// With is what the step is made with; nil if the file does not say.
func (s Step) With() *kits.Fixing {
	if s.Join != nil {
		return s.Join.Fixing
	}
	return nil
}

// WithID is the id of With; empty if the file does not say.
func (s Step) WithID() string {
	if f := s.With(); f != nil {
		return f.ID
	}
	return ""
}

// IsCoat reports whether the step is the outside coat.
func (s Step) IsCoat() bool { return s.Kind == Task && s.Task.Coat }

// Handle is how long after the step what it made can be handled.
func (s Step) Handle() time.Duration {
	if f := s.With(); f != nil {
		return f.Handle
	}
	if s.Kind == Task {
		return s.Task.Cure
	}
	return 0
}

// Cure is how long after the step what it made has its full strength.
func (s Step) Cure() time.Duration {
	if f := s.With(); f != nil {
		return f.Cure
	}
	return s.Handle()
}

// Name is what findings call the step: its own name, or what it does, by id.
func (r *Constraints) Name(step int) string {
	s := r.Steps[step]
	if said := s.Said(); said.Step != "" {
		return said.Step
	}
	switch s.Kind {
	case Fit:
		return "fitting " + r.PieceNames(s.Join.Pieces)
	case Close:
		return r.Kit.Closing(s.Join)
	case Thread:
		return "threading " + s.Wire.ID
	}
	return `"` + s.Task.Do + `"`
}

// PieceName is the id of a piece.
func (r *Constraints) PieceName(p int) string { return r.Kit.Pieces[p].ID }

// PieceNames names pieces for a sentence; all copies of a part go by the id of the part.
func (r *Constraints) PieceNames(list []int) string { return and(r.Kit.Names(list)) }

// and joins names into a list for a sentence.
func and(names []string) string { return english.And(names, 8) }
