package report

import (
	"fmt"
	"strings"
	"time"

	"dryfit/graphviz/document"
	"dryfit/graphviz/safety"
	"dryfit/kits/english"
	"dryfit/plan"
)

// build names a build where the sequence enters it with step v.
func build(q *plan.Sequence, u, v int, again bool) string {
	text := buildName(q, u)
	if again {
		text = language.Say("build.again", "build", text)
	}
	if u == 0 {
		return text
	}
	verb := "joins"
	join := q.Place[q.Builds[u].Join]
	if join < q.Place[v] {
		verb = "joined"
	}
	return fmt.Sprintf("%s (%s at step %d)", text, verb, join)
}

func buildName(q *plan.Sequence, u int) string {
	if u == 0 {
		return language.Say("build.main")
	}
	return language.Say("build.sub", "letter", q.Builds[u].Letter, "name", q.Title(u))
}

// waited remembers how long the sequence has already waited after each step.
type waited map[int]time.Duration

// action says what a step does, with what, and what it waits for, unless an
// earlier step has waited for that already.
func (done waited) action(q *plan.Sequence, v int) string {
	var notes []string
	if with := q.Solution.Constraints.Steps[v].WithID(); with != "" {
		notes = append(notes, with)
	}
	if len(q.PaintFirst(v)) > 0 {
		notes = append(notes, "paint first")
	}
	for _, w := range q.Waits(v) {
		if w.For > done[w.On] {
			done[w.On] = w.For
			notes = append(notes, wait(q, w.On, w.For))
		}
	}
	return bracketed(q.Solution.Constraints.Does(v), notes)
}

// around words what is taken off before a step and put back after it.
func around(r *plan.Constraints, acts []plan.Act) (first, then []string) {
	for _, a := range acts {
		switch {
		case a.Off:
			first = append(first, r.DoesAct(a))
		case a.Back:
			then = append(then, r.DoesAct(a))
		}
	}
	return first, then
}

func wait(q *plan.Sequence, on int, long time.Duration) string {
	return fmt.Sprintf("%s after step %d", english.Span(long), q.Place[on])
}

// bracketed adds notes to a text.
func bracketed(text string, notes []string) string {
	if len(notes) == 0 {
		return text
	}
	return text + " [" + strings.Join(notes, "; ") + "]"
}

// numbers are the places of steps in the sequence.
func numbers(q *plan.Sequence, steps []int) []int {
	list := make([]int, len(steps))
	for i, v := range steps {
		list[i] = q.Place[v]
	}
	return list
}

// cautions words the usual cautions for hazards; none for none.
func cautions(hazards []plan.Hazard) []string {
	if len(hazards) == 0 {
		return []string{}
	}
	return safety.Texts(language, hazards)
}

// see adds the line that points to the cautions for hazards, if there are any.
func (b *blocks) see(hazards []plan.Hazard) {
	if text := safety.See(language, hazards); text != "" {
		b.text("%s", text)
	}
}

// cautionBlocks are these cautions as safety messages, under a heading; short if
// the full ones are given elsewhere.
func cautionBlocks(hazards []plan.Hazard, short bool) []document.Block {
	return append([]document.Block{document.Heading("Cautions")}, safety.Blocks(language, hazards, short)...)
}
