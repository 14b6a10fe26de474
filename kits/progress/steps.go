package progress

import (
	"fmt"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/kits/plain"
)

// Step is a step that has a name. Exactly one of Join, Wire and Task is set.
type Step struct {
	Name string
	Join *kits.Join
	Wire *kits.Wire
	Task *kits.Task
}

// IsFit reports whether the step fits pieces, so that it is done once they are fitted.
func (s Step) IsFit() bool { return s.Join != nil && !s.Join.IsClose() }

// names knows what the names of a kit mean.
type names struct {
	kit   *kits.Kit
	steps []Step
	step  map[string][]int // name -> the steps that have it
	format.Suggester
}

func namesOf(k *kits.Kit) *names {
	n := &names{kit: k, steps: Steps(k), step: map[string][]int{}}
	for i, s := range n.steps {
		n.step[s.Name] = append(n.step[s.Name], i)
	}
	return n
}

// Steps lists the steps of a kit that have names: closings, wires and tasks, and those
// fits that the designer named. Other fits go by their pieces.
func Steps(k *kits.Kit) []Step {
	var list []Step
	for _, j := range k.Joins {
		switch {
		case j.Step != "":
			list = append(list, Step{Name: j.Step, Join: j})
		case j.IsClose():
			list = append(list, Step{Name: k.Closing(j), Join: j})
		}
	}
	for _, w := range k.Wires {
		list = append(list, Step{Name: w.ID, Wire: w})
	}
	for _, t := range k.Tasks {
		list = append(list, Step{Name: t.Name(), Task: t})
	}
	return list
}

// piece finds the pieces of a name. The error names the nearest one.
func (n *names) piece(name string) ([]int, error) {
	if list := n.kit.PiecesNamed(name); list != nil {
		return list, nil
	}
	if len(n.step[name]) > 0 {
		return nil, fmt.Errorf("%q is a step, not a piece; write it under done", plain.Text(name))
	}
	var known []string
	for _, p := range n.kit.Parts {
		if p.ID == name {
			return nil, fmt.Errorf("%s is %s and is never part of the model", name, p.Class)
		}
		known = append(known, p.ID)
	}
	for _, p := range n.kit.Pieces {
		known = append(known, p.ID)
	}
	return nil, fmt.Errorf("the kit has no piece called %q%s", plain.Text(name), n.Suggest(name, known))
}

// named finds the step of a name. The error names the nearest one, or says that several
// have it.
func (n *names) named(name string) (Step, error) {
	switch list := n.step[name]; {
	case len(list) == 1:
		return n.steps[list[0]], nil
	case len(list) > 1:
		return Step{}, fmt.Errorf("%d tasks are called %q; give each its own name in the kit file, with step", len(list), plain.Text(name))
	}
	hint := ""
	if n.kit.PiecesNamed(name) != nil {
		hint = "; it is a piece, and pieces have the states printed, cleaned, painted and fitted"
	} else {
		var known []string
		for _, s := range n.steps {
			known = append(known, s.Name)
		}
		hint = n.Suggest(name, known)
	}
	return Step{}, fmt.Errorf("the kit has no closing, wire or task called %q%s", plain.Text(name), hint)
}
