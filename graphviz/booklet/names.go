package booklet

import (
	"regexp"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits"
)

// part is what a part is called wherever the booklet mentions it: its name and its
// number.
func (m *maker) part(p *kits.Part) string { return timesSigns(p.Name) + " " + m.numbers.Of(p) }

// letterX is the letter that a kit file has between two sizes: 5 x 2 mm.
var letterX = regexp.MustCompile(`([0-9]) ?x ?([0-9])`)

// timesSigns is a text with the sign of multiplication between numbers.
func timesSigns(text string) string {
	const sign = "$1 × $2"
	text = letterX.ReplaceAllString(text, sign)
	return letterX.ReplaceAllString(text, sign) // 4 x 5 x 6: the 5 was taken by the first
}

// remarked is a text of the kit on one line.
func remarked(text string) string {
	return timesSigns(strings.Join(strings.Fields(text), " "))
}

func (m *maker) piece(piece int) string {
	pc := m.kit.Pieces[piece]
	if pc.Part.Quantity == 1 {
		return m.part(pc.Part)
	}
	return m.l.Say("piece.copy", "part", m.part(pc.Part), "copy", strconv.Itoa(pc.Copy))
}

// pieces names pieces for a sentence; all copies of a part go together.
func (m *maker) pieces(list []int) string { return m.l.And(m.pieceNames(list)) }

func (m *maker) pieceNames(list []int) []string {
	var names []string
	for _, run := range m.kit.Runs(list) {
		if part := m.kit.Pieces[run[0]].Part; len(run) > 1 && len(run) == part.Quantity {
			names = append(names, m.l.Say("piece.copies", "part", m.part(part), "n", strconv.Itoa(len(run))))
			continue
		}
		for _, p := range run {
			names = append(names, m.piece(p))
		}
	}
	return names
}

// ratio words the scale of a picture: 1:2 is half of full size.
func (m *maker) ratio(scale float64) string {
	if scale >= 1 {
		return m.l.Number(scale, 1) + ":1"
	}
	return "1:" + m.l.Number(1/scale, 1)
}

// fixing is what a fixing is called; one that the kit adds goes by its id.
func (m *maker) fixing(f *kits.Fixing) string {
	if key := "fixing." + f.ID; m.l.Has(key) {
		return m.l.Say(key)
	}
	return strings.ReplaceAll(f.ID, "-", " ")
}

// material is what a part is made of.
func (m *maker) material(p *kits.Part) string {
	switch {
	case p.Printed != "":
		return m.l.Say("material." + p.Printed)
	case p.Bought:
		return m.l.Say("material.bought")
	case p.Made:
		return m.l.Say("material.made")
	}
	return m.l.Say("material.unknown")
}

// stepLink leads to a step.
func stepLink(number int) document.Link {
	return document.Link{Text: strconv.Itoa(number), ID: document.StepID(number)}
}

func (m *maker) partID(p *kits.Part) string { return "part-" + p.ID }

// numbersOf words step numbers, runs of three and more as ranges.
func (m *maker) numbersOf(list []int) string {
	var parts []string
	for i := 0; i < len(list); {
		n := i
		for n+1 < len(list) && list[n+1] == list[n]+1 {
			n++
		}
		if n-i >= 2 {
			parts = append(parts, m.l.Say("list.to", "from", strconv.Itoa(list[i]), "to", strconv.Itoa(list[n])))
		} else {
			n = i
			parts = append(parts, strconv.Itoa(list[i]))
		}
		i = n + 1
	}
	return strings.Join(parts, ", ")
}
