package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"dryfit/graphviz/document"
	"dryfit/graphviz/report"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/lights"
	"dryfit/plan/project"
)

var seriesByName = map[string]lights.Series{"E12": lights.E12, "E24": lights.E24}

func newLights() *cobra.Command {
	var o output
	var name string
	cmd := ofKit(&cobra.Command{
		Use:   "lights KIT",
		Short: "Work out resistors, currents, battery life and wires of the lamps",
		Long: `lights works out each branch of the lamps of a kit. It prints the resistor by
R = (V - n Vf) / I and the next standard value up, what flows when the supply is fresh
and when it is flat, the power that the resistor must be rated for, how long the battery
lasts, and how long the wires are. Resistors that the kit states are checked.`,
	}, func(kit string) error {
		series, known := seriesByName[strings.ToUpper(name)]
		if !known {
			return fmt.Errorf("--series %s is neither E12 nor E24", kits.Plain(name))
		}
		return o.run(kit, project.Options{Require: needLights.require}, func(p *plan.Project) (*report.Report, error) {
			return report.Lights(p, series), nil
		})
	})
	o.addTo(cmd, document.Formats(true)...)
	cmd.Flags().StringVar(&name, "series", "E12", "standard values to propose: E12 or E24")
	completeFlag(cmd, "series", []string{"E12", "E24"})
	return cmd
}

var needLights = needs{"lights", func(k *kits.Kit) bool { return k.Lights != nil }, `lights:
  volts: 9
  flat: 6
  branches:
    - {lamps: tail-lamp, colour: white, current: 5}`}
