package booklet

import (
	"slices"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/graphviz/safety"
	"dryfit/kits"
	"dryfit/plan"
)

// service is the page on what can be reached again and, where that is one, on putting a
// battery in.
func (m *maker) service() ([]document.Chapter, error) {
	var blocks []document.Block
	battery := false
	for _, s := range m.kit.Service {
		blocks = append(blocks, document.Text(m.reached(s)))
		battery = battery || m.isBattery(s.Reach)
	}
	if len(m.kit.Service) == 0 {
		blocks = append(blocks, document.Text(m.l.Say("service.none")))
	}
	if battery {
		blocks = append(blocks, document.Text(m.l.Say("service.battery")))
		for _, h := range plan.Only(m.rules.Hazards(), "button-cells", "batteries", "lithium") {
			blocks = append(blocks, safety.Message(m.l, h, false))
		}
	}
	if list := m.opening(); len(list) > 0 {
		blocks = append(blocks, document.Heading(m.l.Say("service.opens")), document.Bullets(list))
	}
	title := m.l.Say("service.title-bare")
	if battery {
		title = m.l.Say("service.title")
	}
	return one("service", title, blocks...)
}

func (m *maker) reached(s *kits.Service) string {
	var by []string
	for _, r := range s.ByOpening {
		if list, err := m.kit.Named(r.Name); err == nil {
			by = append(by, m.pieces(list))
		} else {
			by = append(by, strings.ReplaceAll(r.Name, "-", " "))
		}
	}
	if len(by) == 0 {
		return m.l.Say("service.reach-any", "part", m.piece(s.Reach))
	}
	return m.l.Say("service.reach", "part", m.piece(s.Reach), "by", m.l.And(by))
}

func (m *maker) isBattery(piece int) bool {
	j := m.kit.Fitted(piece)
	if j == nil {
		return false
	}
	for v, s := range m.rules.Steps {
		if s.Join == j {
			return slices.ContainsFunc(m.rules.StepHazards(v), func(h plan.Hazard) bool { return h.ID == "batteries" })
		}
	}
	return false
}

// opening lists the pieces whose joins open, and what they come off from.
func (m *maker) opening() []string {
	var list []string
	for _, v := range m.q.Order {
		j := m.rules.Steps[v].Join
		if j != nil && j.Opens && !j.IsClose() {
			list = append(list, m.l.Say("service.opens.row", "part", m.pieces(j.Pieces), "to", m.pieces(j.Onto)))
		}
	}
	return list
}

// checklist is what to look at when all is done.
func (m *maker) checklist() ([]document.Chapter, error) {
	items := []string{m.l.Say("checklist.steps", "n", strconv.Itoa(len(m.q.Order)))}
	if len(m.kit.Wires) > 0 {
		items = append(items, m.l.Say("checklist.lamps"))
	}
	for _, s := range m.kit.Service {
		items = append(items, m.l.Say("checklist.service", "part", m.piece(s.Reach)))
	}
	if slices.ContainsFunc(m.kit.Parts, func(p *kits.Part) bool { return p.Paint == kits.PaintMasked && p.InModel() }) {
		items = append(items, m.l.Say("checklist.masks"))
	}
	if slices.ContainsFunc(m.rules.Hazards(), func(h plan.Hazard) bool { return h.ID == "magnets" }) {
		items = append(items, m.l.Say("checklist.magnets"))
	}
	if loose := m.looseOnes(); loose != "" {
		items = append(items, m.l.Say("checklist.loose", "parts", loose))
	}
	items = append(items, m.l.Say("checklist.left"))
	return one("checklist", m.l.Say("checklist.title"), document.Ticks{Title: m.l.Say("checklist.frame"), Items: items})
}

func (m *maker) looseOnes() string {
	var list []int
	for _, v := range m.q.Order {
		if j := m.rules.Steps[v].Join; j != nil && j.Opens && !j.IsClose() {
			list = append(list, j.Pieces...)
		}
	}
	return m.pieces(list)
}
