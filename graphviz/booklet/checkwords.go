package booklet

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/graphviz/safety"
	"dryfit/plan"
)

func (c *checker) identified() (broken, known []string) {
	if c.kit.Scale == "" {
		broken = append(broken, "the scale is not stated: scale: \"1:N\" in the kit file")
	}
	if c.kit.Revision == "" {
		broken = append(broken, "the revision is not stated: revision: in the kit file")
	}
	return broken, nil
}

func (c *checker) stated() (broken, known []string) {
	for _, x := range []struct{ key, value string }{{"date", c.kit.Date}, {"for", c.kit.For}, {"contact", c.kit.Contact}, {"licence", c.kit.Licence}, {"tools", strings.Join(c.kit.Tools, " ")}} {
		if x.value == "" {
			broken = append(broken, x.key+": is not in the kit file")
		}
	}
	return broken, nil
}

func (c *checker) footerSays() (broken, known []string) {
	if c.kit.Revision != "" && !strings.Contains(c.made.Book.Footer, c.kit.Revision) {
		broken = append(broken, "the footer does not state the revision")
	}
	if !strings.Contains(c.made.Book.Fixed.PageOf, "[1]") || !strings.Contains(c.made.Book.Fixed.PageOf, "[2]") {
		broken = append(broken, "the footer does not number the pages of all")
	}
	return broken, nil
}

// messagesBefore: each hazard of the kit is on the safety page, which comes before the
// steps, and each hazard of a step is worded before the steps of its chapter and said,
// or for cautions named, at the step.
func (c *checker) messagesBefore() (broken, known []string) {
	front := map[string]bool{}
	seenSteps := false
	for _, ch := range c.made.Book.Chapters {
		head := map[string]bool{}
		for _, b := range ch.Blocks {
			switch b := b.(type) {
			case document.Message:
				if !seenSteps {
					front[b.Text] = true
				}
				head[b.Text] = true
			case document.Step:
				seenSteps = true
				broken = append(broken, c.unsaid(b, head)...)
			}
		}
	}
	for _, h := range c.rules.Hazards() {
		if !front[safety.Message(c.l, h, false).Text] {
			broken = append(broken, "the front does not warn of "+h.ID)
		}
	}
	return broken, []string{fmt.Sprintf("%d messages at the front", len(front))}
}

func (c *checker) unsaid(s document.Step, head map[string]bool) (broken []string) {
	for _, h := range c.rules.StepHazards(c.tasks[s.Number]) {
		worded := safety.Message(c.l, h, true).Text
		if !head[worded] {
			broken = append(broken, fmt.Sprintf("the chapter of step %d does not word %s", s.Number, h.ID))
		}
		said := func(m document.Message) bool { return m.Text == worded }
		if h.Signal != plan.Warning {
			said = func(m document.Message) bool { return strings.Contains(m.Text, safety.Name(c.l, h)) }
		}
		if !slices.ContainsFunc(s.Before, said) {
			broken = append(broken, fmt.Sprintf("step %d does not warn of %s", s.Number, h.ID))
		}
	}
	return broken
}

// signalsMeant: warnings, cautions and notices by what can happen, and the triangle
// only where someone can be hurt.
func (c *checker) signalsMeant() (broken, known []string) {
	notice := c.l.Signal(string(plan.Notice))
	count := map[string]int{}
	look := func(m document.Message) {
		count[m.Signal]++
		if m.Alert == (m.Signal == notice) {
			broken = append(broken, m.Signal+": "+m.Text)
		}
	}
	for _, ch := range c.made.Book.Chapters {
		for _, b := range ch.Blocks {
			switch b := b.(type) {
			case document.Message:
				look(b)
			case document.Step:
				for _, m := range b.Before {
					look(m)
				}
			}
		}
	}
	for _, s := range []plan.Signal{plan.Warning, plan.Careful, plan.Notice} {
		word := c.l.Signal(string(s))
		known = append(known, fmt.Sprintf("%s %d times", word, count[word]))
	}
	return broken, known
}

// jigsUsed asks that a step names each jig: by its number, its id or its name.
func (c *checker) jigsUsed() (broken, known []string) {
	var said strings.Builder
	for _, s := range c.rules.Steps {
		said.WriteString(strings.ToLower(s.Note()) + "\n")
		if s.Task != nil {
			said.WriteString(strings.ToLower(s.Task.Do) + "\n")
		}
	}
	for _, p := range c.kit.Parts {
		if p.Class != "tooling" {
			continue
		}
		name, _, _ := strings.Cut(p.Name, ":")
		if !slices.ContainsFunc([]string{c.numbers.Of(p), p.ID, strings.ReplaceAll(p.ID, "-", " "), name}, func(by string) bool {
			return by != "" && strings.Contains(said.String(), strings.ToLower(by))
		}) {
			broken = append(broken, fmt.Sprintf("%s is listed, and no step says what it is for", c.part(p)))
		}
	}
	return broken, nil
}
