package plan_test

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// text writes the kit file.
func (d *draft) text() string {
	b := &strings.Builder{}
	b.WriteString("kit: Random\n")
	if d.cm {
		b.WriteString("units: cm\n")
	}
	if d.clearance != 1 {
		fmt.Fprintf(b, "clearance: %s\n", d.length(d.clearance))
	}
	b.WriteString(draftFixingText + "parts:\n")
	for _, p := range d.parts {
		fmt.Fprintf(b, "  %s: %s\n", p.id, d.partText(p))
	}
	b.WriteString("joins:\n")
	for _, j := range d.joins {
		fmt.Fprintf(b, "  - %s\n", d.joinText(j))
	}
	b.WriteString("spaces:\n")
	for _, s := range d.spaces {
		fmt.Fprintf(b, "  %s: %s\n", s.id, d.spaceText(s))
	}
	if len(d.wires) > 0 {
		b.WriteString("wires:\n")
	}
	for _, w := range d.wires {
		fmt.Fprintf(b, "  - %s\n", d.wireText(w))
	}
	if len(d.tasks) > 0 {
		b.WriteString("tasks:\n")
	}
	for _, t := range d.tasks {
		fmt.Fprintf(b, "  - %s\n", taskText(t))
	}
	return b.String()
}

// flowMapping writes a flow mapping from keys and values, without the empty ones.
func flowMapping(pairs ...string) string {
	var out []string
	for i := 0; i < len(pairs); i += 2 {
		if pairs[i+1] != "" {
			out = append(out, pairs[i]+": "+pairs[i+1])
		}
	}
	return "{" + strings.Join(out, ", ") + "}"
}

// nameList writes nothing, one name, or a list of them.
func nameList(names []string) string {
	switch len(names) {
	case 0:
		return ""
	case 1:
		return names[0]
	}
	return "[" + strings.Join(names, ", ") + "]"
}

// pieceList names pieces one by one, or by their part where all of its copies
// follow one another.
func (d *draft) pieceList(pieces []int) string {
	var names []string
	for len(pieces) > 0 {
		part := d.parts[d.owner[pieces[0]]]
		if n := len(part.pieces); n > 1 && n <= len(pieces) && slices.Equal(pieces[:n], part.pieces) {
			names, pieces = append(names, part.id), pieces[n:]
			continue
		}
		names, pieces = append(names, d.pieceID(pieces[0])), pieces[1:]
	}
	return nameList(names)
}

func (d *draft) length(mm float64) string {
	if d.cm {
		mm /= 10
	}
	return strconv.FormatFloat(mm, 'f', -1, 64)
}

func (d *draft) lengths(mm []float64) string {
	if mm == nil {
		return ""
	}
	var out []string
	for _, l := range mm {
		out = append(out, d.length(l))
	}
	return "[" + strings.Join(out, ", ") + "]"
}

func (d *draft) partText(p draftPart) string {
	quantity := ""
	if len(p.pieces) > 1 {
		quantity = fmt.Sprint(len(p.pieces))
	}
	key, value, _ := strings.Cut(p.extra, ": ")
	return flowMapping("quantity", quantity, "size", d.lengths(p.size), "paint", p.paint, "class", p.class, key, value)
}

func (d *draft) joinText(j draftJoin) string {
	fit, shut := "", ""
	switch {
	case j.to == nil:
		shut = nameList([]string{d.pieceID(j.pieces[0]), d.pieceID(j.pieces[1])})
	case j.whole:
		fit = d.parts[d.owner[j.pieces[0]]].id
	default:
		fit = d.pieceID(j.pieces[0])
	}
	bench := ""
	if j.bench {
		bench = "true"
	}
	return flowMapping("fit", fit, "close", shut, "to", d.pieceList(j.to), "with", j.with, "bench", bench,
		"size", d.lengths(j.size), "opens", j.opens,
		"step", j.step, "after", nameList(j.after), "before", nameList(j.before))
}

func (d *draft) spaceText(s draftSpace) string {
	var closers []string
	for _, c := range s.shut {
		if c.opening == nil {
			closers = append(closers, c.by)
			continue
		}
		closers = append(closers, flowMapping("piece", c.by, "opening", d.lengths(c.opening), "facing", c.facing, "name", c.name))
	}
	inside := ""
	if s.inside >= 0 {
		inside = d.spaces[s.inside].id
	}
	return flowMapping("closed-by", "["+strings.Join(closers, ", ")+"]", "holds", nameList(s.holds), "inside", inside)
}

func (d *draft) wireText(w draftWire) string {
	var runs []string
	for _, s := range w.runsIn {
		runs = append(runs, d.spaces[s].id)
	}
	across := ""
	if w.across > 0 {
		across = d.length(w.across)
	}
	return flowMapping("wire", w.id, "from", d.pieceID(w.from), "to", d.pieceID(w.to), "through", d.pieceList(w.through),
		"runs-in", nameList(runs), "across", across, "after", nameList(w.after), "before", nameList(w.before))
}

func taskText(t draftTask) string {
	coat := ""
	if t.coat {
		coat = "outside"
	}
	return flowMapping("do", "Task", "coat", coat, "step", t.step, "after", nameList(t.after), "before", nameList(t.before))
}
