// Package hardware gathers what is to be said of the ballast, the lights and the
// magnets of a kit, for those who want all of it.
package hardware

import (
	"dryfit/plan"
	"dryfit/plan/balance"
	"dryfit/plan/lights"
	"dryfit/plan/magnets"
)

// Findings lists what a designer should know of the ballast, the lights and the
// magnets of a kit that has been checked; none of what the kit does not mention.
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
