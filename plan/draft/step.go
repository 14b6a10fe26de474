package draft

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan/blocking"
)

// maxNames bounds the pieces that a sentence names.
const maxNames = 5

// step is a move of the disassembly, reversed.
func (m *Measurement) step(v blocking.Move) Step {
	s := Step{Pieces: m.names(v.Pieces), To: m.names(m.touched(v)), Legs: []Leg{}, Undercut: v.Undercut}
	var ways []string
	for _, l := range geom.Reverse(v.Legs) {
		leg, way := Leg{Toward: l.Toward}, "toward "+english.Direction(l.Toward)
		if !l.Endless() {
			leg.Distance = l.Distance
			way = fmt.Sprintf("%.1f mm %s", l.Distance, way)
		}
		s.Legs = append(s.Legs, leg)
		ways = append(ways, way)
	}
	s.Text = fmt.Sprintf("%s onto %s, %s", english.And(s.Pieces, maxNames), english.And(s.To, maxNames), strings.Join(ways, ", then "))
	if s.Undercut > 0 {
		s.Text += fmt.Sprintf(", past an undercut of up to %s mm: a screw thread or a snap", english.Number(s.Undercut, 2))
	}
	return s
}

// touched lists the pieces of the rest that a move's pieces touch, largest
// contact first; all of the rest if they touch nothing.
func (m *Measurement) touched(v blocking.Move) []int {
	contact := map[int]float64{}
	var list []int
	for _, r := range v.Rest {
		for _, p := range v.Pieces {
			contact[r] += m.contact(p, r)
		}
		if contact[r] > 0 {
			list = append(list, r)
		}
	}
	if len(list) == 0 {
		return v.Rest
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(contact[b], contact[a]) })
	return list
}

// contact is the area in which two pieces touch, mm2. Pieces that only overlap
// count as barely touching.
func (m *Measurement) contact(a, b int) float64 {
	pair := m.survey.Model.Pair(a, b)
	switch {
	case pair == nil:
		return 0
	case pair.Contact > 0 || pair.Depth > 0:
		return max(pair.Contact, 1e-6)
	}
	return 0
}
