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
	return []plan.Finding{plan.NewFinding(Seating, plan.Caution, "bought, and scaled as if printed: "+some(ids)).
		Suggest("add fixed-size: true to what is sold in that size only")}
}

// textFindings: what is said in words, and stays as it is.
func (r *Report) textFindings() []plan.Finding {
	var list []plan.Finding
	f := plan.NewFinding(Texts, plan.Note, "texts of the kit are not scaled; check the numbers in them")
	say := func(what, text string, at kits.Pos) {
		if strings.ContainsAny(text, "0123456789") {
			f = f.Since(what+": "+text, at)
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
	if f.Because = more(f.Because); len(f.Because) > 0 && r.Scaling.Factor != 1 {
		list = append(list, f)
	}
	if b := r.Was.Kit.Balance; b != nil && b.Weighed != nil && r.Scaling.Factor != 1 {
		list = append(list, plan.NewFinding(Texts, plan.Note, "the model was weighed at its present scale; weigh it again, or remove that").
			Since("weighed", b.Weighed.Pos))
	}
	if near := r.Scaling.Near; near != "" {
		list = append(list, plan.NewFinding(Texts, plan.Note, fmt.Sprintf("%s of %s is %s; if %s is meant, give that", r.Scaling.Percent(), r.Scaling.From, r.Scaling.To, near)))
	}
	return list
}
