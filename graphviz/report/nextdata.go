package report

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/next"
)

// NextData is what can be done now.
type NextData struct {
	Kit        string         `json:"kit"`         // name of the kit
	OK         bool           `json:"ok"`          // neither the kit nor what was done has a fault
	File       string         `json:"file"`        // the progress file
	Count      Counts         `json:"count"`       // how far it is
	Next       []Job          `json:"next"`        // steps that can be done, those that are ready first
	Held       []Held         `json:"held"`        // steps that must be held back
	Clean      []string       `json:"clean"`       // ids of pieces to clean
	Paint      []string       `json:"paint"`       // ids of pieces to paint
	Prints     []Print        `json:"prints"`      // to print next: plates in order or, without printers, pieces, the most useful first
	NotPrinted []NotPrinted   `json:"not_printed"` // all that is still to print
	Cautions   []string       `json:"cautions"`    // for the work that can be done now
	Findings   []plan.Finding `json:"findings"`    // faults first
}

// Counts is the progress of a kit.
type Counts struct {
	Steps   int `json:"steps"`    // in all
	Done    int `json:"done"`     // of the steps
	Pieces  int `json:"pieces"`   // in all
	Fitted  int `json:"fitted"`   // of the pieces
	Prints  int `json:"prints"`   // pieces that are printed, in all
	Printed int `json:"printed"`  // of the prints
	Cleaned int `json:"cleaned"`  // of the prints
	ToPaint int `json:"to_paint"` // prints that are painted separately
	Painted int `json:"painted"`  // of those to paint
}

// Job is a step that can be done.
type Job struct {
	Number  int       `json:"number"`         // its place in the sequence
	Kind    plan.Kind `json:"kind"`           // what sort of step it is
	Text    string    `json:"text"`           // what is done
	Name    string    `json:"name"`           // that mark takes
	Pieces  []string  `json:"pieces"`         // ids of those still to fit
	Ready   bool      `json:"ready"`          // nothing is missing
	Missing []Missing `json:"missing"`        // what has to be done first
	Have    []string  `json:"have"`           // ids of bought and made pieces that are needed
	Inside  []string  `json:"paint_inside"`   // ids of pieces to paint inside first
	Recall  []string  `json:"recall_paint"`   // ids of pieces whose inside is reached later only by opening again
	Waits   []Wait    `json:"waits"`          // for glue or paint
	Undo    []string  `json:"undo,omitempty"` // what is taken off first, in turn, to let it in
	Redo    []string  `json:"redo,omitempty"` // what is put back afterwards
}

// Missing is what a piece lacks.
type Missing struct {
	Piece  string   `json:"piece"`  // its id
	States []string `json:"states"` // printed, cleaned or painted
}

// Held is a step that would shut out others.
type Held struct {
	Number   int    `json:"number"`       // its place in the sequence
	Text     string `json:"text"`         // what is done
	Name     string `json:"name"`         // that mark takes
	ShutsOut []int  `json:"shuts_out"`    // numbers of steps
	Narrows  bool   `json:"narrows"`      // they could still follow, but only by turning or reopening
	On       []int  `json:"on,omitempty"` // numbers of done steps that it rests on, to be taken apart again
}

// Print is a set of pieces worth printing together.
type Print struct {
	Plate  int      `json:"plate,omitempty"` // its number in the printing plan, if the kit names printers
	Pieces []string `json:"pieces"`          // ids
	Opens  []int    `json:"opens"`           // numbers of the steps that can be done then
}

// NotPrinted is a piece still to print.
type NotPrinted struct {
	Piece string `json:"piece"` // its id
	Opens int    `json:"opens"` // steps that can be done once it is printed
	Waits int    `json:"waits"` // steps that wait for it in all
}

func nextData(p *plan.Project, t *next.Todo, ok bool) NextData {
	k, q, r, c := p.Kit, p.Sequence, p.Constraints, t.Count
	out := NextData{
		Kit: k.Name, OK: ok, File: kits.Plain(p.Progress.Name),
		Count: Counts{c.Steps, c.Done, c.Pieces, c.Fitted, c.Prints, c.Printed, c.Cleaned, c.ToPaint, c.Painted},
		Next:  []Job{}, Held: []Held{}, Clean: k.IDs(t.Bench.Clean), Paint: k.IDs(t.Bench.Paint),
		Prints: []Print{}, NotPrinted: []NotPrinted{}, Cautions: cautions(todoHazards(p, t)), Findings: complete(t.Findings),
	}
	for _, j := range slices.Concat(t.Now, t.Soon, t.Then) {
		out.Next = append(out.Next, jobData(p, t, j))
	}
	for _, h := range t.Held {
		out.Held = append(out.Held, Held{q.Place[h.Step], r.Does(h.Step), t.Name(h.Step), numbers(q, h.Loses), h.Narrows, numbers(q, h.On)})
	}
	for _, x := range t.Prints {
		out.Prints = append(out.Prints, Print{x.Plate, k.IDs(x.Pieces), numbers(q, x.Opens)})
	}
	for _, x := range t.Pieces {
		out.NotPrinted = append(out.NotPrinted, NotPrinted{k.Pieces[x.Piece].ID, x.Opens, x.Waits})
	}
	return out
}

func jobData(p *plan.Project, t *next.Todo, j next.Job) Job {
	k, q, r := p.Kit, p.Sequence, p.Constraints
	out := Job{
		Number: q.Place[j.Step], Kind: r.Steps[j.Step].Kind, Text: r.Does(j.Step), Name: t.Name(j.Step),
		Pieces: k.IDs(j.Pieces), Ready: len(j.Missing) == 0, Missing: []Missing{},
		Have: k.IDs(j.Have), Inside: k.IDs(j.Inside), Recall: k.IDs(j.Recall), Waits: []Wait{},
	}
	for _, m := range j.Missing {
		out.Missing = append(out.Missing, Missing{k.Pieces[m.Piece].ID, m.States.Names()})
	}
	for _, w := range j.Waits {
		out.Waits = append(out.Waits, Wait{q.Place[w.On], seconds(w.For)})
	}
	out.Undo, out.Redo = around(r, t.Rest.ActsFor(j.Step))
	return out
}
