package compare

import (
	"regexp"
	"strings"

	"dryfit/plan"
)

// findings lists those that only the new revision has, and those that only the old one
// had.
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

// anID finds the ids of parts and pieces in what a step is called.
var anID = regexp.MustCompile(`[a-z0-9]+(-[a-z0-9]+)*(\.[1-9][0-9]*)?`)

// subject is what a finding of the old revision is about, in the ids of the new one.
func (p *pairs) subject(f plan.Finding) plan.Subject {
	s := f.Subject()
	if len(p.newID) > 0 {
		s.Piece, s.Step = p.newID.of(s.Piece), anID.ReplaceAllStringFunc(s.Step, p.newID.of)
		ids := strings.Fields(s.Pieces)
		for i := range ids {
			ids[i] = p.newID.of(ids[i])
		}
		s.Pieces = strings.Join(ids, " ")
	}
	return s
}
