package demo_test

import (
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/plan/explain"
)

// Heat ruins magnets and sets fire to a battery: all soldering is done before either
// is in the model. Bare wires are soldered once they are threaded.
func TestSolderingComesBeforeMagnetsAndBattery(t *testing.T) {
	k := kit(t)
	rep, err := explain.Check(k)
	if err != nil {
		t.Fatal(err)
	}
	soldered, hot := 0, ""
	for _, v := range rep.Sequence.Order {
		s := &rep.Constraints.Steps[v]
		solders := s.Wire != nil && s.Wire.Bare || s.Join != nil && strings.Contains(s.Join.Note, "solder")
		if solders {
			soldered++
			if hot != "" {
				t.Errorf("%s is soldered after %s is in", s.ID(), hot)
			}
		}
		if hot == "" {
			hot = heatShy(k, s.Join)
		}
	}
	if soldered < 10 || hot == "" {
		t.Errorf("%d steps with soldering; the first magnet or battery is %q", soldered, hot)
	}
}

// heatShy is the magnet or battery that a join fits, if any.
func heatShy(k *kits.Kit, j *kits.Join) string {
	if j == nil {
		return ""
	}
	for _, p := range j.Pieces {
		magnet := slices.ContainsFunc(k.Magnets, func(m *kits.Magnets) bool { return slices.Contains(m.Pieces, p) })
		if magnet || p == k.Lights.Supply {
			return k.Pieces[p].ID
		}
	}
	return ""
}
