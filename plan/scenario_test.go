package plan_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits/progress"
	"dryfit/plan"
)

// The intended order of the demonstration scenario (invented with the kit): the
// sequence of its closings and coats, its sub-assemblies built before they are
// joined, and what must be inside at each closing.
func TestDemonstrationOrderIsTheIntendedOne(t *testing.T) {
	rep := demoReport(t)
	q := rep.Sequence
	place := map[string]int{}
	for v, s := range rep.Constraints.Steps {
		for _, name := range stepAndPieces(rep.Kit.Pieces, s.Join, s.Wire, s.Task) {
			place[name] = q.Place[v]
		}
	}
	chains := []string{
		"inventory console-port",
		"inside-coat resistor-tray light-test hold hull-closing hull-seams floor-closing bottom-seam outside-coat",
		"ballast-tray hull-closing", "cockpit-floor hull-closing", "cabin-sole hull-closing",
		"wing-lamp-test wing-closing wing-seams engine.1 cowl-ring.1", "engine.2 cowl-ring.2",
		"floor-closing fin-port lead-tail-fin fin-starboard tailplane-port outside-coat",
		"float-outer-port float-seams strut-front-port float-inner-port outside-coat",
		"wing-cabane wing-on lead-duct duct-test outside-coat",
		"wing-on spray-rail-port outside-coat", "wing-on canopy-closing outside-coat",
		"outside-coat rudder final-test", "outside-coat searchlight-housing lead-searchlight searchlight-lens final-test",
		"outside-coat propeller-port spinner.1 final-test", "lead-searchlight magnet-floor.1 magnet-battery-hatch.1 battery battery-hatch final-test",
		"lead-searchlight magnet-hatch-ring.1 magnet-hatch.1 dorsal-hatch final-test",
	}
	for _, chain := range chains {
		names := strings.Fields(chain)
		for i, a := range names[:len(names)-1] {
			b := names[i+1]
			if place[a] == 0 || place[b] == 0 || place[a] >= place[b] {
				t.Errorf("%s is step %d and %s is step %d", a, place[a], b, place[b])
			}
		}
	}
	for name, before := range map[string]string{"cockpit-floor": "console-port crew-seat.1 control-yoke.2 instrument-panel panel-coaming pilot.1 pilot.2",
		"cabin-sole":        "locker oxygen-bottle.1 stretcher-rack stretcher winch-frame winch-drum bench-port bench-starboard raft-pack winch-operator medic",
		"floor-closing":     "battery-cradle battery-clip switch-plate plug",
		"wing-on":           "wing-centre-upper wing-upper-port wing-upper-starboard nacelle-port engine.1 cowl-ring.2",
		"hull-closing":      "bulkhead-bow bulkhead-cockpit bulkhead-cabin bulkhead-aft hatch-ring ceiling-frame cabin-window.6 lead-cockpit lead-tail-hull lead-wing-roots lead-roof",
		"wing-closing":      "lead-tip-port lead-tip-starboard spar-tube",
		"canopy-closing":    "pilot.1 control-yoke.1 instrument-light lamp-holder-cockpit",
		"dorsal-hatch":      "magnet-hatch.1",
		"battery-hatch":     "magnet-battery-hatch.1",
		"fin-starboard":     "lamp-tail",
		"float-inner-port":  "float-outer-port strut-rear-port",
		"beaching-leg-port": "main-wheel.1",
	} {
		for _, b := range strings.Fields(before) {
			if place[b] == 0 || place[b] >= place[name] {
				t.Errorf("%s is step %d, after %s at step %d", b, place[b], name, place[name])
			}
		}
	}
}

// The scenario's lists of what has its last chance before each closing.
func TestDemonstrationLastCalls(t *testing.T) {
	rep := demoReport(t)
	said := map[string][]string{}
	for v, s := range rep.Constraints.Steps {
		for _, c := range rep.Sequence.LastCall(v) {
			for _, name := range stepAndPieces(rep.Kit.Pieces, s.Join, s.Wire, s.Task) {
				said[name] = append(said[name], inIDs(rep.Constraints, c))
			}
		}
	}
	for step, want := range map[string][]string{
		"hull-closing": {"ballast-tray in bow is in", "shot in bow is in", "bulkhead-bow in cockpit is in", "cockpit-floor in cockpit is in",
			"instrument-panel in cockpit is in", "panel-coaming in cockpit is in", "bulkhead-cockpit in cabin is in", "cabin-sole in cabin is in",
			"ceiling-frame in cabin is in", "hatch-ring in cabin is in", "wire lead-tail-hull in aft-hull is threaded", "hull-port-fore is painted",
			"hull-starboard-aft is painted", "done: Test every hull lamp on the bench supply"},
		"floor-closing": {"lining-port in cabin is in", "lining-starboard in cabin is in", "stretcher in cabin is in", "stretcher-rack in cabin is in",
			"bulkhead-aft in battery-bay is in", "battery-cradle in battery-bay is in", "done: Lamps on: plug, switch and every hull lamp"},
		"wing-upper-starboard": {"spar-tube in wing-inside is in", "wire lead-tip-port in wing-inside is threaded", "wing-centre-lower is painted"},
		"canopy-closing":       {"pilot.1 in cockpit is in", "control-yoke.2 in cockpit is in", "instrument-light in cockpit is in", "lamp-cockpit in cockpit is in"},
		"cowl-ring.1":          {"engine.1 in nacelle-inside-port is in"},
		"fin-starboard":        {"wire lead-tail-fin in fin-inside is threaded"},
	} {
		for _, w := range want {
			if !slices.Contains(said[step], w) {
				t.Errorf("the last call at %s lacks %q; it has\n%s", step, w, strings.Join(said[step], "\n"))
			}
		}
	}
	for step, calls := range said {
		for _, c := range calls {
			if strings.HasPrefix(c, "battery in ") || strings.HasPrefix(c, "winch-drum ") {
				t.Errorf("the last call at %s has %q, though a hatch or the door stays open", step, c)
			}
		}
	}
}

// inIDs words a last call with the ids of the scenario.
func inIDs(r *plan.Constraints, c plan.Call) string {
	in := ""
	if c.Space != "" {
		in = " in " + c.Space
	}
	switch c.What {
	case progress.TickFit:
		return r.PieceName(c.Piece) + in + " is in"
	case progress.TickPaint:
		return r.PieceName(c.Piece) + in + " is painted"
	case progress.TickThread:
		return "wire " + c.Wire + in + " is threaded"
	}
	return "done: " + c.Does()
}
