package progress

import (
	"fmt"
	"maps"
	"slices"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/kits/plain"
)

// Marks is what to record: a state of pieces, and steps that are done.
type Marks struct {
	State  States
	Pieces []int
	Steps  []Step // closings, wires and tasks
	Undo   bool   // take it back
}

// Done is the word for steps that are done, beside the states of pieces.
const Done = "done"

// Find resolves names: of pieces for a state; for [Done] of steps, where a step that fits
// pieces means that they are fitted. There is an error for each unknown name.
func Find(k *kits.Kit, state string, list []string) (Marks, []error) {
	n := namesOf(k)
	m := Marks{State: Fitted}
	one, isState := StateOf(state)
	if isState {
		m.State = one
	} else if state != Done {
		words := append(StateNames(), Done)
		return m, []error{fmt.Errorf("%q is not a state: write printed, cleaned, painted, fitted or done%s", plain.Text(state), format.DidYouMean(state, words))}
	}
	var errs []error
	for _, name := range list {
		if isState {
			pieces, err := n.piece(name)
			m.Add(pieces...)
			errs = appendError(errs, err)
			continue
		}
		s, err := n.named(name)
		switch {
		case err != nil:
			errs = appendError(errs, err)
		case s.IsFit():
			m.Add(s.Join.Pieces...)
		case !slices.Contains(m.Steps, s):
			m.Steps = append(m.Steps, s)
		}
	}
	return m, errs
}

func appendError(list []error, err error) []error {
	if err == nil {
		return list
	}
	return append(list, err)
}

// Add adds pieces that are not among the marks yet.
func (m *Marks) Add(pieces ...int) {
	for _, p := range pieces {
		if !slices.Contains(m.Pieces, p) {
			m.Pieces = append(m.Pieces, p)
		}
	}
}

// Mark returns the file with the marks recorded; the file itself does not change. Entries
// that already say so are left alone. It is an error if the file cannot be edited safely.
func (f *File) Mark(k *kits.Kit, m Marks) (*File, error) {
	n := namesOf(k)
	want := f.written(n)
	for _, p := range m.Pieces {
		part := k.Pieces[p].Part
		switch {
		case m.Undo:
			if want[p].Implied(part)&m.State != 0 {
				want[p] = want[p].without(m.State, part)
			}
		case want[p].Implied(part)&m.State == 0:
			want[p] |= m.State
		}
	}
	return f.edited(k, func(e *editor) {
		e.pieces(f, n, want)
		for _, s := range m.Steps {
			e.listed("done", s.Name, !m.Undo)
		}
	}, func(after *File) bool { return after.says(n, want, m) })
}

// Text is the file without its end line.
func (f *File) Text() []byte { return f.text }

// written is what the entries say of each piece, without what is implied.
func (f *File) written(n *names) []States {
	list := make([]States, len(n.kit.Pieces))
	for i, pieces := range f.covered(n, new(kits.Faults)) {
		for _, p := range pieces {
			list[p] |= f.Pieces[i].States
		}
	}
	return list
}

// says reports whether the file says of each piece what is wanted, and of the steps.
func (f *File) says(n *names, want []States, m Marks) bool {
	got := f.written(n)
	for p, s := range want {
		if part := n.kit.Pieces[p].Part; got[p].Implied(part) != s.Implied(part) {
			return false
		}
	}
	names := maps.Collect(func(yield func(string, bool) bool) {
		for _, r := range f.Done {
			if !yield(r.Name, true) {
				return
			}
		}
	})
	return !slices.ContainsFunc(m.Steps, func(s Step) bool { return names[s.Name] == m.Undo })
}
