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

// Fixings lists the fixings that a kit uses, in the order of the kit file with the
// built-in ones first.
func Fixings(rep *plan.Project) []Use {
	q := rep.Draft()
	var list []Use
	for _, f := range rep.Kit.Fixings {
		u := Use{Fixing: f}
		for _, v := range q.Order {
			if j := rep.Constraints.Steps[v].Join; j != nil && j.Fixing == f {
				u.Steps = append(u.Steps, q.Place[v])
			}
		}
		if u.Steps != nil {
			list = append(list, u)
		}
	}
	return list
}
