package compare

import (
	"strings"

	"dryfit/plan"
)

// findings lists the findings that only the new revision has, and those that only
// the old one had.
func findings(p *pairs) (added, gone []plan.Finding) {
	was, is := map[plan.Subject]int{}, map[plan.Subject]int{}
	for _, f := range p.before.Findings {
		was[p.subject(f)]++
	}
	for _, f := range p.after.Findings {
		s := f.Subject()
		if is[s]++; was[s] < is[s] {
			added = append(added, f)
		}
	}
	for _, f := range p.before.Findings {
		s := p.subject(f)
		if is[s]--; is[s] < 0 {
			gone = append(gone, f)
		}
	}
	return added, gone
}

// subject is what a finding of the old revision is about, in the ids of the new one.
func (p *pairs) subject(f plan.Finding) plan.Subject {
	s := f.Subject()
	s.Piece = p.newID.of(s.Piece)
	s.Pieces = strings.Join(ids(f.Pieces, p.newID.of), " ")
	if s.Step >= 0 {
		s.Step = p.newStep[s.Step]
	}
	return s
}
