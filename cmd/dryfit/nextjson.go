package main

import (
	"io"
	"slices"

	"dryfit/kits"
	record "dryfit/kits/progress" // progress is the bar on the terminal
	"dryfit/plan"
	"dryfit/plan/next"
)

// nextReport is the JSON of next.
type nextReport struct {
	Kit        string         `json:"kit"`
	OK         bool           `json:"ok"`
	File       string         `json:"file"`
	Count      countJSON      `json:"count"`
	Next       []jobJSON      `json:"next"`
	Held       []heldJSON     `json:"held"`
	Clean      []string       `json:"clean"`
	Paint      []string       `json:"paint"`
	Prints     []printJSON    `json:"prints"`
	NotPrinted []notPrinted   `json:"not_printed"`
	Findings   []plan.Finding `json:"findings"`
}

type countJSON struct {
	Steps   int `json:"steps"`
	Done    int `json:"done"`
	Pieces  int `json:"pieces"`
	Fitted  int `json:"fitted"`
	Prints  int `json:"prints"`
	Printed int `json:"printed"`
	Cleaned int `json:"cleaned"`
	ToPaint int `json:"to_paint"` // of the prints, those painted by themselves
	Painted int `json:"painted"`
}

type jobJSON struct {
	Number  int           `json:"number"`
	Kind    plan.Kind     `json:"kind"`
	Text    string        `json:"text"`
	Name    string        `json:"name"`
	Pieces  []string      `json:"pieces"` // still to fit
	Ready   bool          `json:"ready"`
	Missing []missingJSON `json:"missing"`
	Have    []string      `json:"have"`
	Inside  []string      `json:"paint_inside"`
	Waits   []waitJSON    `json:"waits"`
}

type missingJSON struct {
	Piece  string   `json:"piece"`
	States []string `json:"states"`
}

type heldJSON struct {
	Number   int    `json:"number"`
	Text     string `json:"text"`
	Name     string `json:"name"`
	ShutsOut []int  `json:"shuts_out"`
	Narrows  bool   `json:"narrows"` // they could still follow, by turning or reopening
}

type printJSON struct {
	Pieces []string `json:"pieces"`
	Opens  []int    `json:"opens"`
}

type notPrinted struct {
	Piece string `json:"piece"`
	Opens int    `json:"opens"`
	Waits int    `json:"waits"`
}

func nextJSON(w io.Writer, rep *plan.Project, file *record.File, t *next.Todo) error {
	k, q, r, c := rep.Kit, rep.Sequence, rep.Constraints, t.Count
	out := nextReport{
		Kit: k.Name, OK: true, File: kits.Plain(file.Name),
		Count: countJSON{c.Steps, c.Done, c.Pieces, c.Fitted, c.Prints, c.Printed, c.Cleaned, c.ToPaint, c.Painted},
		Next:  []jobJSON{}, Held: []heldJSON{}, Clean: ids(k, t.Bench.Clean), Paint: ids(k, t.Bench.Paint),
		Prints: []printJSON{}, NotPrinted: []notPrinted{}, Findings: complete(t.Findings),
	}
	for _, f := range t.Findings {
		out.OK = out.OK && f.Grade != plan.Fault
	}
	for _, j := range slices.Concat(t.Now, t.Soon, t.Then) {
		out.Next = append(out.Next, jobOf(rep, t, j))
	}
	numbers := func(steps []int) []int {
		list := make([]int, len(steps))
		for i, v := range steps {
			list[i] = q.Place[v]
		}
		return list
	}
	for _, h := range t.Held {
		out.Held = append(out.Held, heldJSON{q.Place[h.Step], r.Does(h.Step), t.Name(h.Step), numbers(h.Loses), h.Narrows})
	}
	for _, p := range t.Prints {
		out.Prints = append(out.Prints, printJSON{ids(k, p.Pieces), numbers(p.Opens)})
	}
	for _, p := range t.Pieces {
		out.NotPrinted = append(out.NotPrinted, notPrinted{k.Pieces[p.Piece].ID, p.Opens, p.Waits})
	}
	return writeJSON(w, out)
}

func jobOf(rep *plan.Project, t *next.Todo, j next.Job) jobJSON {
	k, q, r := rep.Kit, rep.Sequence, rep.Constraints
	out := jobJSON{
		Number: q.Place[j.Step], Kind: r.Steps[j.Step].Kind, Text: r.Does(j.Step), Name: t.Name(j.Step),
		Pieces: ids(k, j.Pieces), Ready: len(j.Missing) == 0, Missing: []missingJSON{},
		Have: ids(k, j.Have), Inside: ids(k, j.Inside), Waits: []waitJSON{},
	}
	for _, m := range j.Missing {
		out.Missing = append(out.Missing, missingJSON{k.Pieces[m.Piece].ID, m.States.Names()})
	}
	for _, wait := range j.Waits {
		out.Waits = append(out.Waits, waitJSON{q.Place[wait.On], int(wait.For.Seconds())})
	}
	return out
}
