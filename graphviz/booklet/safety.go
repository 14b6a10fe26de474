package booklet

import (
	"dryfit/graphviz/document"
	"dryfit/plan"
)

// safety is the page with the messages for the hazards that this kit has, and no
// others.
func (m *maker) safety() ([]document.Chapter, error) {
	blocks := []document.Block{document.Text(m.l.Say("safety.intro"))}
	for _, h := range plan.Hazards(m.kit) {
		blocks = append(blocks, document.Message{Signal: m.l.Signal(string(h.Signal)), Alert: h.Signal != plan.Notice, Text: m.l.Say("hazard." + h.ID)})
	}
	return one("safety", m.l.Say("safety.title"), blocks...)
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
		list = append(list, document.Message{Signal: m.l.Signal(string(h.Signal)), Alert: h.Signal != plan.Notice, Text: m.l.Say("hazard." + h.ID + ".short"), Short: true})
	}
	return list
}
