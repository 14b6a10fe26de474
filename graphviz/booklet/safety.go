package booklet

import (
	"dryfit/graphviz/document"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/plan"
)

// safety is the page with the messages for the hazards that this kit has, and no
// others.
func (m *maker) safety() ([]document.Chapter, error) {
	return one("safety", m.l.Say("safety.title"), Safety(m.l, m.kit)...)
}

// Safety words the messages for the hazards of a kit, with what holds for all of them.
func Safety(l words.Language, k *kits.Kit) []document.Block {
	blocks := []document.Block{document.Text(l.Say("safety.intro"))}
	for _, h := range plan.Hazards(k) {
		blocks = append(blocks, message(l, h, ""))
	}
	return blocks
}

// message words a hazard; short is ".short" for the reminder before an action.
func message(l words.Language, h plan.Hazard, short string) document.Message {
	return document.Message{Signal: l.Signal(string(h.Signal)), Alert: h.Signal != plan.Notice, Text: l.Say("hazard." + h.ID + short), Short: short != ""}
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
		list = append(list, message(m.l, h, ".short"))
	}
	return list
}
