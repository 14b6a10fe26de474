package plan

import (
	"dryfit/kits"
	"dryfit/kits/english"
)

// Kind of a step.
type Kind string

// The kinds of steps, as they are called in JSON.
const (
	Fit    Kind = "fit"
	Close  Kind = "close"
	Thread Kind = "thread"
	Task   Kind = "task"
)

// Step is one action of the build. Exactly one of Join, Wire and Task is set.
type Step struct {
	Kind Kind
	Join *kits.Join
	Wire *kits.Wire
	Task *kits.Task
}

// steps lists the steps of a kit: the joins, then the wires, then the tasks, each
// in the sequence of the file.
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

// said is what the designer says about the place of the step.
func (s Step) Said() *kits.Order {
	switch s.Kind {
	case Thread:
		return &s.Wire.Order
	case Task:
		return &s.Task.Order
	}
	return &s.Join.Order
}

// pos is where the step stands in the file.
func (s Step) Pos() kits.Pos {
	switch s.Kind {
	case Thread:
		return s.Wire.Pos
	case Task:
		return s.Task.Pos
	}
	return s.Join.Pos
}

// Note is the designer's note on the step; empty if there is none.
func (s Step) Note() string {
	switch s.Kind {
	case Thread:
		return s.Wire.Note
	case Task:
		return s.Task.Note
	}
	return s.Join.Note
}

// name is what the step is called in findings: its own name, or what it does in
// the ids of the file.
func (r *Constraints) Name(step int) string {
	s := r.Steps[step]
	if said := s.Said(); said.Step != "" {
		return said.Step
	}
	switch s.Kind {
	case Fit:
		return "fitting " + r.PieceNames(s.Join.Pieces)
	case Close:
		return "closing " + r.PieceName(s.Join.Pieces[0]) + " on " + r.PieceName(s.Join.Pieces[1])
	case Thread:
		return "threading " + s.Wire.ID
	}
	return `"` + s.Task.Do + `"`
}

func (r *Constraints) PieceName(p int) string { return r.Kit.Pieces[p].ID }

// pieceNames lists pieces; all copies of a part go by the name of the part.
func (r *Constraints) PieceNames(list []int) string {
	if len(list) > 1 && r.Kit.Pieces[list[0]].Part.Quantity == len(list) &&
		r.Kit.Pieces[list[0]].Part == r.Kit.Pieces[list[len(list)-1]].Part {
		return r.Kit.Pieces[list[0]].Part.ID
	}
	return and(r.EachName(list))
}

func (r *Constraints) EachName(list []int) []string {
	names := make([]string, len(list))
	for i, p := range list {
		names[i] = r.PieceName(p)
	}
	return names
}

// and joins names for a sentence.
func and(names []string) string { return english.And(names, 8) }
