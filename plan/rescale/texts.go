package rescale

import (
	"fmt"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
)

// sizeFindings: bought parts that are not said to keep their size.
func (r *Report) sizeFindings() []plan.Finding {
	var ids []string
	for _, p := range r.Kit.Parts {
		if p.Bought && !p.FixedSize {
			ids = append(ids, p.ID)
		}
	}
	if len(ids) == 0 || r.Scaling.Factor == 1 {
		return nil
	}
	f := finding(Seating, plan.Caution, fmt.Sprintf("bought, and scaled as if printed: %s", some(ids)))
	f.Repairs = []plan.Repair{{Text: "say fixed-size: true of what is sold in that size only"}}
	return []plan.Finding{f}
}

// textFindings: what is said in words, and stays as it is.
func (r *Report) textFindings() []plan.Finding {
	var list []plan.Finding
	f := finding(Texts, plan.Note, "texts of the kit are not scaled; look at the numbers in them")
	n := 0
	say := func(what, text string, at kits.Pos) {
		if !strings.ContainsAny(text, "0123456789") {
			return
		}
		if n++; n <= maxLines {
			f.Because = append(f.Because, plan.Reason{Text: what + ": " + text, At: at.String()})
		}
	}
	say("about", r.Kit.About, kits.Pos{File: r.Kit.File})
	for _, p := range r.Kit.Parts {
		if p.ToPrint() {
			say(p.ID, p.Note, p.Pos)
		}
	}
	for _, w := range r.Kit.Wires {
		say(w.ID, w.Note, w.Pos)
	}
	if n > maxLines {
		f.Because = append(f.Because, plan.Reason{Text: fmt.Sprintf("and %d more", n-maxLines)})
	}
	if n > 0 && r.Scaling.Factor != 1 {
		list = append(list, f)
	}
	if b := r.Kit.Balance; b != nil && b.Weighed != nil && r.Scaling.Factor != 1 {
		f := finding(Texts, plan.Note, "the model was weighed at its present scale; weigh it again, or take that out")
		f.Because = []plan.Reason{{Text: "weighed", At: b.Weighed.Pos.String()}}
		list = append(list, f)
	}
	if near := r.Scaling.Near; near != "" {
		list = append(list, finding(Texts, plan.Note, fmt.Sprintf("%s of %s is %s; if %s is meant, give that", r.Scaling.Percent(), r.Scaling.From, r.Scaling.To, near)))
	}
	return list
}
