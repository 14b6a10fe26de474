package rescale

import (
	"fmt"
	"slices"

	"dryfit/kits/english"
	"dryfit/plan"
)

// orderFindings are those of the check that the kit has only at the new scale, and one
// finding that says how many it has at the present one.
func (r *Report) orderFindings() []plan.Finding {
	known := map[plan.Subject]bool{}
	for _, f := range r.Was.Findings {
		known[f.Subject()] = true
	}
	var list []plan.Finding
	for _, f := range r.Now.Findings {
		// Whether meshes and kit agree is asked at the scale of the meshes, but for what keeps
		// its size and loses touch.
		of := f.Kind != plan.Meshes && f.Kind != plan.Clashes || r.losesTouch(f)
		if of && !known[f.Subject()] {
			list = append(list, f)
		}
	}
	if len(r.Was.Findings) > 0 {
		grade := plan.Note
		if !r.Was.OK() {
			grade = plan.Fault
		}
		list = append(list, plan.NewFinding(Present, grade, fmt.Sprintf("the kit has findings at its present scale already (%s, %s, %s); they are not repeated here, see dryfit check",
			english.Count(r.Was.Count(plan.Fault), "fault"), english.Count(r.Was.Count(plan.Caution), "caution"), english.Count(r.Was.Count(plan.Note), "note"))))
	}
	return list
}

// losesTouch reports whether a finding is of a piece that no longer touches what it is fitted
// to, since one of the two keeps its size.
func (r *Report) losesTouch(f plan.Finding) bool {
	return f.Kind == plan.Meshes && len(f.Because) > 0 && slices.ContainsFunc(f.Because[0].Pieces, func(id string) bool {
		list := r.Kit.PiecesNamed(id)
		return len(list) > 0 && !r.scales(list[0])
	})
}

// Order says whether there is a proven order at the new scale, and whether it is the one
// of before.
func (r *Report) Order() string {
	switch {
	case r.Now.Sequence == nil && r.Was.Sequence == nil:
		return "No order is proven at either scale."
	case r.Now.Sequence == nil:
		return "No order is proven at that scale; see the faults."
	case r.Was.Sequence == nil:
		return "There is an order at that scale; at the present one none is proven."
	case slices.Equal(r.Now.Sequence.Order, r.Was.Sequence.Order):
		return "The order holds, step by step."
	}
	return "There is an order, another than before."
}
