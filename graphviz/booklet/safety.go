package booklet

import (
	"dryfit/graphviz/document"
	"dryfit/graphviz/safety"
	"dryfit/plan"
)

// safety is the page with the messages for the hazards that this kit has, and no
// others.
func (m *maker) safety() ([]document.Chapter, error) {
	return one("safety", m.l.Say("safety.title"), safety.Blocks(m.l, plan.Hazards(m.kit), false)...)
}

// before lists the short messages before a step: a warning each time, a caution or a
// notice the first time in a run of steps of one build.
func (m *maker) before(step int, said map[string]bool) []document.Message {
	var list []document.Message
	for _, h := range m.rules.StepHazards(step) {
		if h.Signal != plan.Warning && said[h.ID] {
			continue
		}
		said[h.ID] = true
		list = append(list, safety.Message(m.l, h, true))
	}
	return list
}
