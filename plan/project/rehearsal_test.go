package project_test

import (
	"context"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/project"
)

// A lamp in a void that two glued pieces seal, its battery loose outside: undoing the
// battery does not open the void again.
const sealedKit = `kit: Lamp
parts: {base: {}, dome: {}, lamp: {}, battery: {}}
joins:
  - {fit: lamp, to: base, with: ca}
  - {fit: dome, to: base, with: ca}
  - {fit: battery, to: base, with: loose}
spaces:
  void: {closed-by: [dome], holds: lamp}
wires:
  - {wire: lead, from: battery, to: lamp, runs-in: void, across: 2, after: dome}
`

// A kit without a sequence that can be replayed has a fault and no sequence.
func TestNothingPromisedUnrehearsed(t *testing.T) {
	for _, c := range []struct {
		what, text string
		ok         bool
	}{
		{"sealed before the wire is in", sealedKit, false},
		{"the wire may come first", kitstest.Replace(t, sealedKit, ", after: dome", ""), true},
		{"the dome comes off", kitstest.Replace(t, sealedKit, "dome, to: base, with: ca", "dome, to: base, with: screw"), true},
	} {
		p, err := project.Of(context.Background(), kitstest.Read(t, c.text), project.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if (p.Sequence != nil) != c.ok || p.OK() != c.ok || (p.Count(plan.Fault) == 1) == c.ok {
			t.Errorf("%s: a sequence: %v, findings: %+v", c.what, p.Sequence != nil, p.Findings)
		}
	}
}
