package main

import (
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/plan"
)

// cautions words the usual cautions for the work that a kit asks for.
func cautions(k *kits.Kit) []string {
	l, err := words.In("en")
	if err != nil {
		panic(err) // English is part of the program
	}
	list := []string{l.Say("safety.intro")}
	for _, h := range plan.Hazards(k) {
		list = append(list, l.Signal(string(h.Signal))+". "+l.Say("hazard."+h.ID))
	}
	return list
}
