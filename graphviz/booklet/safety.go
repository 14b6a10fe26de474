package booklet

import (
	"dryfit/graphviz/document"
	"dryfit/graphviz/safety"
	"dryfit/plan"
)

// safety is the page with the messages for the hazards that this kit has, and no
// others.
func (m *maker) safety() ([]document.Chapter, error) {
	return one("safety", m.l.Say("safety.title"), safety.Blocks(m.l, m.rules.Hazards(), false)...)
}

// chapterSafety are the short messages for the hazards of the steps of a chapter.
func (m *maker) chapterSafety(visits []visit) []document.Block {
	acts := map[string]bool{}
	for _, vis := range visits {
		for _, v := range vis.steps {
			for _, h := range m.rules.StepHazards(v) {
				acts[h.ID] = true
			}
		}
	}
	if len(acts) == 0 {
		return nil
	}
	list := []document.Block{document.Text(m.l.Say("hazards.chapter"))}
	for _, h := range m.rules.Hazards() {
		if acts[h.ID] {
			list = append(list, safety.Message(m.l, h, true))
		}
	}
	return list
}

// before lists the messages before a step: each warning in short; cautions, and
// notices, by their names in one line, as the chapter words them.
func (m *maker) before(step int) []document.Message {
	var list []document.Message
	names := map[plan.Signal][]string{}
	for _, h := range m.rules.StepHazards(step) {
		if h.Signal == plan.Warning {
			list = append(list, safety.Message(m.l, h, true))
			continue
		}
		names[h.Signal] = append(names[h.Signal], safety.Name(m.l, h))
	}
	for _, s := range []plan.Signal{plan.Careful, plan.Notice} {
		if len(names[s]) > 0 {
			list = append(list, safety.Again(m.l, s, names[s]))
		}
	}
	return list
}
