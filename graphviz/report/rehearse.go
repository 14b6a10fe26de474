package report

import (
	"fmt"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/rehearse"
)

// Rehearsal is a sequence, how far it can be followed, and what would help.
type Rehearsal struct {
	Sequence []rehearse.Action
	*rehearse.Result
	Advice rehearse.Advice
}

// RehearseData is how far a sequence can be followed. Steps go by the names of the file.
type RehearseData struct {
	Kit      string           `json:"kit"`      // name of the kit
	OK       bool             `json:"ok"`       // the sequence builds the kit, which has no fault
	Given    int              `json:"given"`    // steps of the sequence
	Fine     int              `json:"fine"`     // how many can be done, from the first
	Failure  *RehearseFailure `json:"failure"`  // of the next step; null if all can be done
	Missing  []string         `json:"missing"`  // steps of the kit that the sequence does not do
	Reopened []Reopening      `json:"reopened"` // what is undone on the way, and made again
	Moves    []RehearseMove   `json:"moves"`    // that make the sequence work, one after the other
	Findings []plan.Finding   `json:"findings"` // of the kit, faults first
}

// RehearseFailure is a step that cannot be done.
type RehearseFailure struct {
	Number int           `json:"number"`          // its place in the sequence
	Line   int           `json:"line"`            // of the file
	Kind   rehearse.Kind `json:"kind"`            // why it cannot be done
	Step   string        `json:"step"`            // its name
	Text   string        `json:"text"`            // why, in words
	Pieces []string      `json:"pieces"`          // ids of those missing, apart, or in the way
	Steps  []string      `json:"steps"`           // that must be done first, or are fixed across
	Space  string        `json:"space,omitempty"` // that cannot be entered
	Place  *RehearseMove `json:"place"`           // where it can be done; null if nowhere
}

// RehearseMove is a step moved elsewhere.
type RehearseMove struct {
	Step   string `json:"step"`   // that moves
	Before string `json:"before"` // the step that it comes before; empty for the end
}

// Reopening is what is undone for a step, and made again after it.
type Reopening struct {
	Number int      `json:"number"` // its place in the sequence
	Step   string   `json:"step"`   // its name
	Joins  []string `json:"joins"`  // in the order in which they are undone
}

// Rehearse reports how far a sequence can be followed.
func Rehearse(p *plan.Project, r Rehearsal) *Report {
	w := &rehearsal{p: p, Rehearsal: r}
	w.verdict()
	w.reopened()
	w.moves()
	return newReport(p.Kit, p.OK() && r.OK(), w.blocks, nil, w.data())
}

// rehearsal is the result to be worded.
type rehearsal struct {
	blocks
	p *plan.Project
	Rehearsal
}

func (w *rehearsal) name(step int) string { return w.p.Constraints.Name(step) }

// action is what an entry of the sequence does.
func (w *rehearsal) action(a rehearse.Action) string {
	if a.Off {
		return "undoing " + w.name(a.Step)
	}
	return w.name(a.Step)
}

func (w *rehearsal) verdict() {
	switch {
	case w.OK():
		w.text("%s: all %s of the sequence can be done, and the kit is complete.", w.p.Kit.Name, english.Count(len(w.Sequence), "step"))
		return
	case w.Fine == 1:
		w.text("Step 1 is fine.")
	case w.Fine > 1:
		w.text("Steps 1 to %d are fine.", w.Fine)
	}
	if f := w.Failure; f != nil {
		w.text("Step %d cannot be done: %s at %s: %s. %s", w.Fine+1, w.action(f.Action), line(f.Action.Pos), f.Text(w.p.Kit, w.name), w.place())
	}
	if n := len(w.Missing); n > 0 {
		w.text("%s of the kit %s missing: %s.", english.Count(n, "step"), english.Plural(n, "is", "are"), english.And(w.names(w.Missing), 12))
	}
}

// line words a position in a sequence.
func line(at kits.Pos) string { return fmt.Sprintf("%s:%d", kits.Plain(at.File), at.Line) }

// place says where the failed step could be done.
func (w *rehearsal) place() string {
	v := w.Advice.Place
	switch {
	case v == nil:
		return "No other place was found for it."
	case v.After():
		return fmt.Sprintf("It could be done after step %d, %s.", v.Before, w.action(w.Sequence[v.Before-1]))
	}
	return fmt.Sprintf("It could be done before step %d, %s.", v.Before+1, w.action(w.Sequence[v.Before]))
}

func (w *rehearsal) reopened() {
	if len(w.Reopened) == 0 {
		return
	}
	w.heading("Undone on the way, and made again")
	var list []string
	for _, o := range w.Reopened {
		list = append(list, fmt.Sprintf("step %d, %s: %s", o.At+1, w.action(w.Sequence[o.At]), english.And(w.names(o.Joins), 8)))
	}
	w.bullets(list)
}

func (w *rehearsal) moves() {
	list := w.changes()
	if len(list) == 0 {
		return
	}
	w.heading("What makes the sequence work")
	out := document.List{Numbered: len(list) > 1}
	for _, v := range list {
		before := "to the end"
		if v.Before != "" {
			before = "before " + v.Before
		}
		out.Items = append(out.Items, fmt.Sprintf("move %s %s", v.Step, before))
	}
	w.add(document.Entry{Lists: []document.List{out}})
}

// changes are the moves by name. A second one refers to the sequence after the
// first.
func (w *rehearsal) changes() []RehearseMove {
	sequence := w.Sequence
	list := []RehearseMove{}
	for _, v := range w.Advice.Moves {
		list = append(list, w.move(sequence, v))
		sequence = v.Apply(sequence)
	}
	return list
}

func (w *rehearsal) move(sequence []rehearse.Action, v rehearse.Move) RehearseMove {
	m := RehearseMove{Step: w.action(sequence[v.Action])}
	if v.Before < len(sequence) {
		m.Before = w.action(sequence[v.Before])
	}
	return m
}

func (w *rehearsal) names(steps []int) []string {
	list := make([]string, len(steps))
	for i, v := range steps {
		list[i] = w.name(v)
	}
	return list
}

func (w *rehearsal) data() RehearseData {
	out := RehearseData{Kit: w.p.Kit.Name, OK: w.p.OK() && w.OK(), Given: len(w.Sequence), Fine: w.Fine, Failure: w.failure(),
		Missing: w.names(w.Missing), Reopened: []Reopening{}, Moves: w.changes(), Findings: complete(w.p.Findings)}
	for _, o := range w.Reopened {
		out.Reopened = append(out.Reopened, Reopening{o.At + 1, w.action(w.Sequence[o.At]), w.names(o.Joins)})
	}
	return out
}

func (w *rehearsal) failure() *RehearseFailure {
	f := w.Failure
	if f == nil {
		return nil
	}
	out := &RehearseFailure{Number: w.Fine + 1, Line: f.Action.Pos.Line, Kind: f.Kind, Step: w.action(f.Action),
		Text: f.Text(w.p.Kit, w.name), Pieces: w.p.Kit.IDs(f.Pieces), Steps: w.names(f.Steps)}
	if f.Space != nil {
		out.Space = f.Space.ID
	}
	if v := w.Advice.Place; v != nil {
		place := w.move(w.Sequence, *v)
		out.Place = &place
	}
	return out
}
