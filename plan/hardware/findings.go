// Package hardware gathers what is to be said of the ballast, the lights and the
// magnets of a kit, for those who want all of it.
package hardware

import (
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/balance"
	"dryfit/plan/lights"
	"dryfit/plan/magnets"
)

// Source gives out the meshes of pieces by their ids.
type Source interface {
	Mesh(piece string) *mesh.Mesh // nil if it has none
}

// Findings lists what a designer should know of the ballast, the lights and the
// magnets of a kit that has been checked; none of what the kit does not mention. The
// source is nil for a kit without meshes.
func Findings(rep *plan.Project, from Source) []plan.Finding {
	var list []plan.Finding
	if rep.Kit.Balance != nil {
		list = append(list, balance.Of(rep, from).Findings()...)
	}
	if rep.Kit.Lights != nil {
		list = append(list, lights.Of(rep.Kit, from, lights.E12).Findings()...)
	}
	return append(list, magnets.Findings(rep.Kit, from)...)
}
