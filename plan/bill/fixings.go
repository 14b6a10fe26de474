package bill

import (
	"dryfit/kits"
	"dryfit/plan"
)

// Use is a fixing and the steps that use it.
type Use struct {
	Fixing *kits.Fixing
	Steps  []int // numbers, ascending
}

// Fixings lists the fixings that a kit uses, in the sequence of the kit file with the
// built-in ones first.
func Fixings(q *plan.Sequence) []Use {
	r := q.Solution.Constraints
	var list []Use
	for _, f := range r.Kit.Fixings {
		u := Use{Fixing: f}
		for _, v := range q.Order {
			if j := r.Steps[v].Join; j != nil && j.Fixing == f {
				u.Steps = append(u.Steps, q.Place[v])
			}
		}
		if u.Steps != nil {
			list = append(list, u)
		}
	}
	return list
}
