package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/plan/project"
)

// needs is what a kit must say for a report to be made.
type needs struct {
	what    string
	has     func(*kits.Kit) bool
	example string
}

// require is the error of a kit that does not say enough.
func (n needs) require(k *kits.Kit) error {
	if n.has(k) {
		return nil
	}
	return fmt.Errorf("%s does not describe its %s; add, for example:\n\n%s\n\nfor all keys see dryfit schema --reference", kits.Plain(k.File), n.what, n.example)
}

func newBalance() *cobra.Command {
	var o output
	cmd := ofKit(&cobra.Command{
		Use:   "balance KIT",
		Short: "Work out mass, balance and the ballast that is needed",
		Long: `balance follows where the model balances as it grows. Masses are those that the kit
states, or are computed from meshes and materials, or else from sizes. For the ballast
that the kit names it says how much the finished model needs to rest on the right side
of its support, whether there is room for it, and before which step it must be in. Text
shows the steps that add the most; csv and json show all steps, and every piece.`,
	}, func(kit string) error {
		return o.run(kit, project.Options{Require: needBalance.require}, always(report.Balance))
	})
	o.addTo(cmd, document.Formats(true)...)
	return cmd
}

var needBalance = needs{"balance", func(k *kits.Kit) bool { return k.Balance != nil }, `balance: {along: x, support: 212, ballast: shot, inside: [42, 30, 24]}

where support is where along the axis the model stands, such as its main wheels`}

func newMagnets() *cobra.Command {
	var o output
	cmd := ofKit(&cobra.Command{
		Use:   "magnets KIT",
		Short: "List magnets: which way each points, what repels, whether pockets suit them",
		Long: `magnets lists the magnets of a kit. It gives the direction of their north poles in the
finished model, says of each pair whether it attracts or repels, and compares pockets
with the size of the magnets. With meshes, pairs are found by the positions of the
magnets; without, they are taken to lie one over the other.`,
	}, func(kit string) error {
		return o.run(kit, project.Options{Require: needMagnets.require}, always(report.Magnets))
	})
	o.addTo(cmd, document.Formats(true)...)
	return cmd
}

var needMagnets = needs{"magnets", func(k *kits.Kit) bool { return len(k.Magnets) > 0 }, `magnets:
  - {magnet: hatch-magnet, north: [0, 0, 1], mates: hull-magnet, pocket: [5.2, 2.2]}
  - {magnet: hull-magnet, north: [0, 0, 1]}`}
