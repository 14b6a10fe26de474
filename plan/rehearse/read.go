package rehearse

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/plan"
)

// Read reads a sequence of the steps of a kit: text with one step a line, or CSV.
//
//	# what follows a # is a comment
//	keel            the step that fits a piece; of a part, those that fit its copies
//	hull-closing    a step by its own name, or a wire
//	left right      a closing without a name: the two pieces
//	off lid         undo a join that opens; a later line "lid" makes it again
//
// CSV has columns by their headings, between commas or semicolons, in any order. Each row
// is one step: by its name in "step", else by the ids in "pieces" or "piece", else by the
// text of a task in "what". A row with "undo" under "kind" undoes it. The rows count, not
// their numbers. Pieces that no step fits are
// there from the start, so a line with one does nothing. The error is [kits.Faults].
func Read(k *kits.Kit, steps []plan.Step, file string, data []byte) ([]Action, error) {
	r := &reader{kit: k, steps: steps, file: file, called: map[string]int{}, fits: map[int][]int{}}
	r.index()
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	switch {
	case len(data) > format.MaxBytes:
		r.faults.Add(kits.Pos{File: file}, "is larger than %d MB, the limit for a sequence", format.MaxBytes>>20)
	case !utf8.Valid(data):
		r.faults.Add(kits.Pos{File: file}, "the file is not UTF-8 text; save it as UTF-8")
	case isCSV(file, data):
		r.rows(data)
	default:
		r.lines(data)
	}
	if r.names == 0 && len(r.faults) == 0 {
		r.faults.Add(kits.Pos{File: file}, "names no step; write the name of a step, a piece or a wire on each line")
	}
	if err := r.faults.Err(); err != nil {
		return nil, err
	}
	return r.list, nil
}

// reader gathers the actions that a file names.
type reader struct {
	kit    *kits.Kit
	steps  []plan.Step
	file   string
	called map[string]int // the name of a step, or the text of its task -> the first one of it
	fits   map[int][]int  // piece -> the steps that fit it
	closes []int          // steps that close groups
	names  int            // read so far, of steps and of pieces that no step fits
	list   []Action
	faults kits.Faults
}

func (r *reader) lines(data []byte) {
	n := 0
	for line := range strings.Lines(string(data)) {
		n++
		if r.full(kits.Pos{File: r.file, Line: n, Col: 1}) {
			return
		}
		line, _, _ = strings.Cut(line, "#")
		if text := strings.TrimSpace(line); text != "" {
			r.add(text, kits.Pos{File: r.file, Line: n, Col: 1 + strings.Index(line, text)})
		}
	}
}

// A sequence names each step a few times at most: it is done, and may be undone and done
// again.
const (
	mostTimes = 8
	moreSteps = 1000
)

// full reports whether nothing more is worth reading: there are faults enough, or far more
// steps than the kit has.
func (r *reader) full(at kits.Pos) bool {
	if len(r.list) > mostTimes*len(r.steps)+moreSteps {
		r.faults.Add(at, "the sequence names more than %d steps by here, and the kit has %d; name each step once", len(r.list), len(r.steps))
		r.list = nil
		return true
	}
	return len(r.faults) >= shownFaults
}

// shownFaults is how many faults of a sequence are looked for.
const shownFaults = 100

// add adds what a line or a cell names.
func (r *reader) add(text string, at kits.Pos) {
	r.names++
	name, off := strings.CutPrefix(text, "off ")
	steps, err := r.named(strings.TrimSpace(name))
	if err != nil {
		r.faults.Add(at, "%v", err)
	}
	for _, v := range steps {
		r.list = append(r.list, Action{v, off, at})
	}
}

// named lists the steps that a text means.
func (r *reader) named(text string) ([]int, error) {
	if v, known := r.called[text]; known {
		return []int{v}, nil
	}
	var pieces []int
	for _, name := range strings.FieldsFunc(text, func(c rune) bool { return strings.ContainsRune(" \t,+", c) }) {
		list, err := r.kit.Named(name)
		if err != nil {
			return nil, err
		}
		pieces = append(pieces, list...)
	}
	for _, v := range r.closes {
		if sameSet(r.steps[v].Pieces(), pieces) {
			return []int{v}, nil
		}
	}
	var list []int
	for _, p := range pieces {
		list = append(list, r.fits[p]...)
	}
	slices.Sort(list)
	return slices.Compact(list), nil
}

// index finds out by what the steps can be named.
func (r *reader) index() {
	call := func(name string, v int) {
		if _, known := r.called[name]; !known && name != "" {
			r.called[name] = v
		}
	}
	for v, s := range r.steps {
		call(s.Said().Step, v)
		if s.Task != nil {
			call(s.Task.Do, v)
		}
		if s.Kind == plan.Close {
			r.closes = append(r.closes, v)
		}
		for _, p := range s.Fits() {
			r.fits[p] = append(r.fits[p], v)
		}
	}
}

func sameSet(a, b []int) bool {
	return slices.Equal(slices.Sorted(slices.Values(a)), slices.Sorted(slices.Values(b)))
}

// headings are the columns that can name a step, in the order in which they are asked.
var headings = []string{"step", "name", "wire", "pieces", "piece", "what"}

// isCSV reports whether a file is CSV: by its name, or because its first line has a
// heading among several cells.
func isCSV(file string, data []byte) bool {
	if strings.EqualFold(filepath.Ext(file), ".csv") {
		return true
	}
	line, _, _ := strings.Cut(string(data), "\n")
	cells := strings.FieldsFunc(line, func(c rune) bool { return c == ',' || c == ';' })
	return len(cells) > 1 && slices.ContainsFunc(cells, func(cell string) bool { return slices.Contains(headings, heading(cell)) })
}

func heading(cell string) string { return strings.ToLower(strings.Trim(cell, "\" \t\r")) }

func (r *reader) rows(data []byte) {
	in := csv.NewReader(bytes.NewReader(data))
	in.FieldsPerRecord, in.LazyQuotes, in.TrimLeadingSpace = -1, true, true
	if first, _, _ := bytes.Cut(data, []byte("\n")); bytes.Count(first, []byte(";")) > bytes.Count(first, []byte(",")) {
		in.Comma = ';'
	}
	head, err := in.Read()
	columns := columnsOf(head)
	kind := slices.IndexFunc(head, func(cell string) bool { return heading(cell) == "kind" })
	if err != nil || len(columns) == 0 {
		r.faults.Add(kits.Pos{File: r.file, Line: 1, Col: 1}, "the first row has no heading that names steps; call a column %s", strings.Join(headings, ", "))
		return
	}
	for {
		row, err := in.Read()
		if row == nil {
			r.unreadable(err)
			return
		}
		if line, _ := in.FieldPos(0); r.full(kits.Pos{File: r.file, Line: line, Col: 1}) {
			return
		}
		n := len(r.list)
		r.row(in, row, columns)
		if kind >= 0 && kind < len(row) && heading(row[kind]) == "undo" {
			for i := range r.list[n:] {
				r.list[n+i].Off = true
			}
		}
	}
}

// unreadable reports an error of a row that is no end of the file.
func (r *reader) unreadable(err error) {
	var bad *csv.ParseError
	if errors.As(err, &bad) {
		r.faults.Add(kits.Pos{File: r.file, Line: bad.Line, Col: bad.Column}, "%v; check the quotes", bad.Err)
	}
}

// columnsOf lists the columns that can name a step, in the order of the headings.
func columnsOf(head []string) []int {
	var list []int
	for _, want := range headings {
		if c := slices.IndexFunc(head, func(cell string) bool { return heading(cell) == want }); c >= 0 {
			list = append(list, c)
		}
	}
	return list
}

// row adds the step that the first cell with something in it names.
func (r *reader) row(in *csv.Reader, row []string, columns []int) {
	for _, c := range columns {
		if c >= len(row) {
			continue
		}
		// A spreadsheet gets an apostrophe before what it could take for a formula.
		if text := strings.TrimPrefix(strings.TrimSpace(row[c]), "'"); text != "" {
			line, col := in.FieldPos(c)
			r.add(text, kits.Pos{File: r.file, Line: line, Col: col})
			return
		}
	}
}

// Write writes a sequence as the text that [Read] reads.
func Write(k *kits.Kit, steps []plan.Step, sequence []Action) []byte {
	var b bytes.Buffer
	for _, a := range sequence {
		if a.Off {
			b.WriteString("off ")
		}
		fmt.Fprintln(&b, lineOf(k, steps[a.Step]))
	}
	return b.Bytes()
}

// lineOf names a step: by its own name, its pieces, or the text of its task.
func lineOf(k *kits.Kit, s plan.Step) string {
	switch {
	case s.Said().Step != "":
		return s.Said().Step
	case s.Join != nil:
		return strings.Join(k.IDs(s.Pieces()), " ")
	}
	return s.Task.Do
}
