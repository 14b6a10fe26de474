// Package hardware collects the findings on the ballast, the lights and the magnets of a
// kit, for a check of the whole.
package hardware

import (
	"dryfit/plan"
	"dryfit/plan/balance"
	"dryfit/plan/lights"
	"dryfit/plan/magnets"
)

// Findings lists what a designer should know of the ballast, the lights and the
// magnets of a checked kit, if it has any.
func Findings(p *plan.Project) []plan.Finding {
	var list []plan.Finding
	if p.Kit.Balance != nil {
		list = append(list, balance.Of(p).Findings()...)
	}
	if p.Kit.Lights != nil {
		list = append(list, lights.Of(p, lights.E12).Findings()...)
	}
	return append(list, magnets.Findings(p)...)
}
