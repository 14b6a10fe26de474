package graphviz

import (
	"fmt"
	"strings"

	"dryfit/graphviz/safety"
	"dryfit/graphviz/svg"
	"dryfit/graphviz/words"
	"dryfit/plan"
)

// rowLimits are limits on the rows of a box. Longer builds are cut into boxes of
// even length, to fill the sheet. All limits are tried, and the one that allows
// the largest drawing is used.
var rowLimits = []int{24, 32, 40, 50, 64}

// mostCompared is the number of steps beyond which only the last limit is tried: a sheet
// with more steps cannot be read without a magnifier, however it is cut, and each layout of
// 20,000 steps takes some 3 s.
const mostCompared = 2000

// enoughRows is the length at which a closing ends a box of the main build.
const enoughRows = 12

// maxText is the longest text of a row, in characters.
const maxText = 48

// dotStart is the first line of a DOT text.
const dotStart = "// " + svg.Mark + "\n"

// box is one table of the drawing: a build, or a stretch of it.
type box struct {
	name  string // in the DOT text
	title string
	main  bool
	rows  []row
}

// row is one step.
type row struct {
	step   int
	number string
	text   string
	kind   string // close, part, build, thread, task
	bad    string // TRAPPED or UNREACHABLE
	from   []int  // boxes that are joined in this step: the last box of each build
}

// dot writes the assembly tree of a kit in the DOT language: a table for each build, a row
// for each step, and a line from each sub-build to the step that joins it. It is
// deterministic.
func dot(rep *plan.Project, maxRows int) string {
	boxes, next := layOut(rep, maxRows)
	var b strings.Builder
	b.WriteString(dotStart)
	b.WriteString("digraph tree {\n")
	fmt.Fprintf(&b, "  graph [rankdir=LR, ranksep=0.45, nodesep=0.14, margin=0.1, fontname=Helvetica, labelloc=t, labeljust=l,\n    label=<%s>];\n", heading(rep))
	b.WriteString("  node [shape=plain, fontname=Helvetica, fontsize=8, margin=0];\n")
	b.WriteString("  edge [arrowsize=0.6, penwidth=1.2];\n")
	for _, x := range boxes {
		fmt.Fprintf(&b, "  %s [label=<%s>];\n", x.name, x.table())
	}
	for i, x := range boxes {
		for _, r := range x.rows {
			for _, from := range r.from {
				fmt.Fprintf(&b, "  %s:out -> %s:s%d:w;\n", boxes[from].name, x.name, r.step)
			}
		}
		if n := next[i]; n >= 0 {
			fmt.Fprintf(&b, "  %s:out -> %s:in:w [style=bold, penwidth=3, weight=20];\n", x.name, boxes[n].name)
		}
	}
	b.WriteString("}\n")
	return b.String()
}

func sheetTitle(rep *plan.Project) string {
	text := rep.Kit.Name
	if rep.Kit.Scale != "" {
		text += ", " + rep.Kit.Scale
	}
	return text + fmt.Sprintf(": assembly tree, %d pieces in %d steps", len(rep.Kit.Pieces), len(rep.Constraints.Steps))
}

// heading is the title of the sheet and a key to its signs.
func heading(rep *plan.Project) string {
	lines := []string{
		"Each row adds one part to its box, in the order of the numbers. Letter: a sub-build joins here.",
		"White on black: closes something for good, see the last calls. Slanted: a wire or a task.",
	}
	if rep.Sequence == nil {
		lines = []string{
			"NO PROVEN ORDER: see the framed rows, and dryfit check.",
			"Each row adds one part to its box, as the file suggests. Letter: a sub-build joins here. White on black: a closing. Slanted: a wire or a task.",
		}
	}
	if see := safety.See(words.English, rep.Constraints.Hazards()); see != "" {
		lines = append(lines, see)
	}
	text := sized(16, svg.Escape(sheetTitle(rep))) + sized(8, " ")
	for i, l := range lines {
		l = svg.Escape(l)
		if rep.Sequence == nil && i == 0 {
			l = "<B>" + l + "</B>"
		}
		text += sized(8, l)
	}
	return text
}

// sized is a line of the heading.
func sized(points int, text string) string {
	return fmt.Sprintf(`<FONT POINT-SIZE="%d">%s</FONT><BR ALIGN="LEFT"/>`, points, text)
}

// layOut makes the boxes in the order of the steps. next is the box in which a build
// continues, -1 for its last.
func layOut(rep *plan.Project, maxRows int) (boxes []box, next []int) {
	q := rep.Draft()
	rows := rowsOf(rep, q)
	last := make([]int, len(q.Builds)) // build -> its last box
	boxOf := map[int]int{}             // step -> its box
	for u, list := range rows {
		last[u] = -1
		for i, part := range cut(list, u == 0, maxRows) {
			boxes = append(boxes, box{name: fmt.Sprintf("b%d", len(boxes)), title: boxTitle(rep, q, u, i > 0), main: u == 0, rows: part})
			next = append(next, -1)
			if i > 0 {
				next[len(next)-2] = len(boxes) - 1
			}
			last[u] = len(boxes) - 1
			for _, r := range part {
				boxOf[r.step] = last[u]
			}
		}
	}
	for _, u := range q.SubBuilds() {
		if last[u] < 0 {
			continue
		}
		x := &boxes[boxOf[q.Builds[u].Join]]
		for i := range x.rows {
			if x.rows[i].step == q.Builds[u].Join {
				x.rows[i].from = append(x.rows[i].from, last[u])
			}
		}
	}
	return boxes, next
}

// rowsOf makes the rows of each build.
func rowsOf(rep *plan.Project, q *plan.Sequence) [][]row {
	letters := map[int]string{}
	for _, u := range q.SubBuilds() {
		letters[q.Builds[u].Join] = q.Builds[u].Letter
	}
	bad := badSteps(rep)
	rows := make([][]row, len(q.Builds))
	for _, v := range q.Order {
		r := makeRow(rep, q, v, bad[v])
		if l := letters[v]; l != "" {
			r.text = l + "  " + r.text
			if r.kind == "part" {
				r.kind = "build"
			}
		}
		rows[q.BuildOf[v]] = append(rows[q.BuildOf[v]], r)
	}
	return rows
}

// cut cuts the rows of a build into boxes.
func cut(rows []row, main bool, maxRows int) [][]row {
	var stretches [][]row
	for len(rows) > 0 {
		n := len(rows)
		for i := enoughRows; main && i < len(rows); i++ {
			if rows[i-1].kind == "close" {
				n = i
				break
			}
		}
		stretches = append(stretches, rows[:n])
		rows = rows[n:]
	}
	var boxes [][]row
	for _, s := range stretches {
		for parts := (len(s) + maxRows - 1) / maxRows; parts > 0; parts-- {
			n := (len(s) + parts - 1) / parts
			boxes = append(boxes, s[:n])
			s = s[n:]
		}
	}
	return boxes
}

func boxTitle(rep *plan.Project, q *plan.Sequence, u int, again bool) string {
	switch {
	case u == 0 && again:
		return "MAIN BUILD, continued"
	case u == 0:
		if len(rep.Kit.Pieces) == 0 {
			return "MAIN BUILD"
		}
		return "MAIN BUILD on " + rep.Kit.Label(q.Builds[u].Base)
	case again:
		return fmt.Sprintf("%s  continued", q.Builds[u].Letter)
	}
	return fmt.Sprintf("%s  %s", q.Builds[u].Letter, q.Title(u))
}

func makeRow(rep *plan.Project, q *plan.Sequence, v int, bad string) row {
	r := row{step: v, kind: "part", bad: bad}
	if rep.Sequence != nil {
		r.number = fmt.Sprint(q.Place[v])
	}
	s := rep.Constraints.Steps[v]
	switch s.Kind {
	case plan.Fit:
		r.text = rep.Constraints.Labels(s.Join.Pieces)
	case plan.Close:
		r.kind = "close"
		r.text = "CLOSE " + closeText(rep, s)
	case plan.Thread:
		r.kind, r.text = "thread", "wire "+s.Wire.ID
	default:
		r.kind, r.text = "task", s.Task.Do
	}
	if rep.Sequence != nil && r.kind == "part" && len(q.LastCall(v)) > 0 {
		r.kind = "close"
		r.text = "CLOSE " + r.text
	}
	return r
}

// closeText names the two pieces of a closing, by their numbers if they have any, since
// names are often long.
func closeText(rep *plan.Project, s plan.Step) string {
	a, b := rep.Kit.Pieces[s.Join.Pieces[0]].Part, rep.Kit.Pieces[s.Join.Pieces[1]].Part
	if a.Number == "" || b.Number == "" || a == b {
		return rep.Constraints.Labels(s.Join.Pieces)
	}
	return fmt.Sprintf("%s and %s, %s", a.Number, b.Number, a.Name)
}

// badSteps marks the steps of pieces that cannot be fitted.
func badSteps(rep *plan.Project) map[int]string {
	bad := map[int]string{}
	word := map[string]string{plan.Trapped: "TRAPPED", plan.Unreachable: "UNREACHABLE", plan.Cycle: "IN A CYCLE", plan.Loose: "LOOSE"}
	for _, f := range rep.Findings {
		if w := word[f.Kind]; w != "" {
			for _, v := range rep.StepsOf(f) {
				bad[v] = w
			}
		}
	}
	return bad
}

// table is the box as an HTML-like label.
func (x box) table() string {
	var b strings.Builder
	border := 1
	if x.main {
		border = 3
	}
	fmt.Fprintf(&b, `<TABLE BORDER="%d" CELLBORDER="0" CELLSPACING="0" CELLPADDING="2" PORT="out" BGCOLOR="#ffffff">`, border)
	fmt.Fprintf(&b, `<TR><TD COLSPAN="2" PORT="in" ALIGN="LEFT" BGCOLOR="#e4e4e4" CELLPADDING="3"><FONT POINT-SIZE="9"><B>%s</B></FONT></TD></TR>`, svg.Escape(clip(x.title)))
	for _, r := range x.rows {
		b.WriteString(r.cells())
	}
	b.WriteString("</TABLE>")
	return b.String()
}

func (r row) cells() string {
	number, text := svg.Escape(r.number), svg.Escape(clip(r.text))
	if number == "" {
		number = " "
	}
	attributes, before, after := "", "", ""
	switch {
	case r.bad != "":
		number, text = "!!", r.bad+": "+text
		attributes, before, after = ` BORDER="2"`, "<B>", "</B>"
	case r.kind == "close":
		attributes, before, after = ` BGCOLOR="#000000"`, `<FONT COLOR="#ffffff"><B>`, "</B></FONT>"
	case r.kind == "build":
		before, after = "<B>", "</B>"
	case r.kind == "thread" || r.kind == "task":
		before, after = "<I>", "</I>"
	default:
		before, after = `<FONT POINT-SIZE="8">`, "</FONT>"
	}
	return fmt.Sprintf(`<TR><TD ALIGN="RIGHT" PORT="s%d"%s>%s%s%s</TD><TD ALIGN="LEFT"%s>%s%s%s</TD></TR>`,
		r.step, attributes, before, number, after, attributes, before, text, after)
}

// clip shortens text to what a row holds.
func clip(s string) string {
	r := []rune(s)
	if len(r) <= maxText {
		return s
	}
	return strings.TrimRight(string(r[:maxText-1]), " ,;") + "…"
}
