package compare

import (
	"regexp"

	"dryfit/plan"
)

// findings lists those that only the new revision has, and those that only the old one
// had. A finding is the same if it says the same of the same piece.
func findings(before, after *plan.Project, p *pairs) (added, gone []plan.Finding) {
	d := &describer{newID: p.newID}
	was, is := map[[4]string]int{}, map[[4]string]int{}
	for _, f := range before.Findings {
		was[d.said(f)]++
	}
	for _, f := range after.Findings {
		is[said(f)]++
		if was[said(f)] < is[said(f)] {
			added = append(added, f)
		}
	}
	for _, f := range before.Findings {
		if key := d.said(f); is[key] > 0 {
			is[key]--
		} else {
			gone = append(gone, f)
		}
	}
	return added, gone
}

func said(f plan.Finding) [4]string {
	return [4]string{f.Kind, string(f.Grade), f.Piece, f.Text}
}

// anID finds what may be the id of a part or piece in a text.
var anID = regexp.MustCompile(`[a-z0-9]+(-[a-z0-9]+)*(\.[1-9][0-9]*)?`)

// said is what a finding says in the ids of the new revision.
func (d *describer) said(f plan.Finding) [4]string {
	key := said(f)
	key[2] = d.ref(f.Piece)
	if len(d.newID) > 0 {
		key[3] = anID.ReplaceAllStringFunc(f.Text, d.ref)
	}
	return key
}
