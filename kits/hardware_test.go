package kits

import (
	"strings"
	"testing"
)

// withHardware is the small kit with what tests say of its weights, lamps and magnets.
func withHardware(extra string) []byte {
	text, _, _ := strings.Cut(base, "printers:")
	return []byte(strings.Replace(text, "scale:", "units: cm\nscale:", 1) + extra)
}

// Lengths of balance, lights and magnets are in the units of the file; g, cm3, V, mA
// and ohm are not.
func TestHardwareUnits(t *testing.T) {
	k, err := Read("kit.yaml", withHardware(`balance: {along: y, support: -2, ballast: seat, at: 1.5, inside: [2, 3, 4], weighed: {mass: 520, at: 23.5}}
lights: {volts: 9, flat: 6, cover: 0.055, branches: [{lamps: lid, colour: red, current: 5, resistor: 1500, wires: lead, length: 46}]}
magnets:
  - {magnet: seat, north: [0, 0, 2], pocket: [0.52, 0.22]}
`))
	if err != nil {
		t.Fatal(err)
	}
	near := func(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }
	b, l, m := k.Balance, k.Lights, k.Magnets[0]
	if b.Along != 1 || !near(b.Support, -20) || b.Margin != 8 || !near(*b.At, 15) || b.Pack != 4.6 || !near(b.Room, 24) || b.Ballast.ID != "seat" || b.Weighed.Mass != 520 || !near(b.Weighed.At, 235) {
		t.Errorf("balance %+v, weighed %+v", b, b.Weighed)
	}
	if l.Supply != -1 || l.Fresh != 9 || l.Flat != 6 || !near(l.Cover, 0.55) {
		t.Errorf("lights %+v", l)
	}
	if r := l.Branches[0]; r.Forward != 2 || r.Usual != "red" || r.Resistor != 1500 || !near(r.Length, 460) || len(r.Wires) != 1 || k.Pieces[r.Lamps[0]].ID != "lid" {
		t.Errorf("branch %+v", r)
	}
	if !near(m.Pocket.Diameter, 5.2) || !near(m.Pocket.Depth, 2.2) || len(m.Pieces) != 2 {
		t.Errorf("magnets %+v", m)
	}
	if k.MagnetsOf(m.Pieces[1]) != m || k.MagnetsOf(0) != nil {
		t.Error("what the kit says of a magnet is not found, or found for what is none")
	}
}

func TestHardwareFaults(t *testing.T) {
	const light = "lights: {volts: 9, branches: [{lamps: lid, colour: red, current: 5}, "
	for extra, want := range map[string]string{
		"balance: {along: x, support: 5, ballast: jig}\n":                                                      "tooling and is never part of the model",
		"balance: {along: x, support: 5, ballast: set}\n":                                                      `no part is called "set"`,
		"lights: {volts: 9, fresh: 8, branches: [{lamps: lid, colour: red, current: 5}]}\n":                    "fresh must be at least volts",
		"balance: {along: x, support: 5, ballast: seat, pack: 0.001}\n":                                        "0.001 g/cm3 is too low",
		"balance: {along: x, support: 5, ballast: seat, inside: [0.01, 0.02, 0.03]}\n":                         "is too small",
		"lights: {volts: 9, branches: [{lamps: lid, colour: red, current: 0.005}]}\n":                          "0.005 mA is too little",
		"lights: {volts: 9, branches: [{lamps: lid, colour: red, current: 5, resistor: 0.5}]}\n":               "0.5 ohm is too small",
		light + "{lamps: lid, colour: red, current: 5}]}\n":                                                    "lid is already in the branch at kit.yaml:22:31",
		light + "{lamps: seat, colour: red, current: 5, wires: led}]}\n":                                       `no wire is called "led", did you mean "lead"?`,
		"magnets: [{magnet: lid, north: [0, 0, 1]}, {magnet: lid, north: [0, 0, 1]}]\n":                        "lid already has an entry",
		"magnets: [{magnet: seat, north: [0, 0, 1], mates: lid}, {magnet: lid, north: [0, 0, 1]}]\n":           "there are 2 of seat and 1 of lid",
		"magnets: [{magnet: seat.1, north: [0, 0, 1], mates: lid}]\n":                                          "lid has no entry under magnets",
		"magnets: [{magnet: lid, north: [0, 0, 1], mates: lid}]\n":                                             "cannot pair with itself",
		"magnets: [{mates: lid}, {magnet: nothing, north: [1, 0, 0], mates: lid}]\n":                           "needs magnet",
		"materials: {grey: {process: resin, density: 1}}\nbalance: {support: 3, weighed: {mass: -1, at: 2}}\n": "needs along",
	} {
		_, err := Read("kit.yaml", withHardware(extra))
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: want an error with %q, got %v", extra, want, err)
		}
	}
	if _, err := Read("kit.yaml", []byte(strings.Replace(base, "printed: resin}", "printed: resin, fill: 20%}", 1))); err == nil || !strings.Contains(err.Error(), "resin, so it is solid") {
		t.Errorf("resin that is not full: %v", err)
	}
}
