package report

import (
	"fmt"
	"strings"
	"time"

	"dryfit/graphviz/document"
	"dryfit/kits/english"
	"dryfit/plan"
)

// build names a build where the sequence enters it with step v.
func build(q *plan.Sequence, u, v int, again bool) string {
	if u == 0 {
		return map[bool]string{false: "Main build", true: "Main build, continued"}[again]
	}
	text := subBuild(q, u)
	if again {
		text += ", continued"
	}
	verb := "joins"
	join := q.Place[q.Builds[u].Join]
	if join < q.Place[v] {
		verb = "joined"
	}
	return fmt.Sprintf("%s (%s at step %d)", text, verb, join)
}

func subBuild(q *plan.Sequence, u int) string {
	return fmt.Sprintf("Sub-build %s: %s", q.Builds[u].Letter, q.Title(u))
}

// waited remembers how long after each step the sequence has waited already.
type waited map[int]time.Duration

// action says what a step does, with what, and what it waits for, if no earlier step has
// waited for that already.
func (done waited) action(q *plan.Sequence, v int) string {
	var notes []string
	if with := q.Solution.Constraints.Steps[v].WithID(); with != "" {
		notes = append(notes, with)
	}
	if q.PaintFirst(v) {
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

func wait(q *plan.Sequence, on int, long time.Duration) string {
	return fmt.Sprintf("%s after step %d", english.Span(long), q.Place[on])
}

// bracketed puts notes behind a text.
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

func stepID(number int) string { return fmt.Sprintf("step-%d", number) }

// cautions words the usual cautions for the work that a kit asks for.
func cautions(hazards []plan.Hazard) []string {
	list := []string{language.Say("safety.intro")}
	for _, h := range hazards {
		list = append(list, language.Signal(string(h.Signal))+". "+language.Say("hazard."+h.ID))
	}
	return list
}

// cautionBlocks are the same as safety messages, under a heading.
func cautionBlocks(hazards []plan.Hazard) []document.Block {
	list := []document.Block{document.Heading("Cautions"), document.Text(language.Say("safety.intro"))}
	for _, h := range hazards {
		list = append(list, document.Message{Signal: language.Signal(string(h.Signal)), Alert: h.Signal != plan.Notice, Text: language.Say("hazard." + h.ID)})
	}
	return list
}
