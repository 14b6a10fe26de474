package balance_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/plan/balance"
)

// A model of 520 g that balances at 235, on wheels at 205 with 10 mm to spare, and
// ballast at 35 need 130 g: 520 x (235 - 195) / (195 - 35). The other rows are worked
// by hand from the same equality of moments.
func TestNeeded(t *testing.T) {
	for _, c := range []struct {
		mass, at, target, ballastAt, want float64
		possible                          bool
	}{
		{520, 235, 195, 35, 130, true},
		{520, 195, 195, 35, 0, true},   // it balances there
		{520, 150, 195, 35, 0, true},   // it balances on the ballast's side
		{100, 50, 60, 80, 50, true},    // ballast behind, model nose-heavy: 100 x 10 / 20
		{520, 235, 195, 195, 0, false}, // ballast on the line has no lever
		{520, 195, 195, 195, 0, true},
	} {
		got, possible := balance.Needed(c.mass, c.at, c.target, c.ballastAt)
		if math.Abs(got-c.want) > 1e-9 || possible != c.possible {
			t.Errorf("%g g at %g, wanted at %g, ballast at %g: %g g, %v; want %g g, %v", c.mass, c.at, c.target, c.ballastAt, got, possible, c.want, c.possible)
		}
	}
}

// With what is needed, any model balances at its target.
func TestNeededBalances(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	for range 1000 {
		target := 400*rng.Float64() - 200
		side := float64(1 - 2*rng.IntN(2))
		model := balance.Point{Mass: 1 + 1000*rng.Float64(), At: target + side*100*rng.Float64()}
		ballastAt := target - side*(1+100*rng.Float64())
		m, possible := balance.Needed(model.Mass, model.At, target, ballastAt)
		if at := model.With(balance.Point{Mass: m, At: ballastAt}).At; !possible || math.Abs(at-target) > 1e-9*(1+math.Abs(target)) {
			t.Fatalf("%v with %g g at %g balances at %g, want %g", model, m, ballastAt, at, target)
		}
	}
}

// A cube of 20 mm: 8000 mm3, of which six sides of 400 mm2 by 1.2 mm are walls. A
// plate of 2 mm has walls only.
func TestMaterial(t *testing.T) {
	if got, want := (&mesh.Shape{Volume: 8000, Area: 2400}).Material(0.15), 2880+0.15*5120; math.Abs(got-want) > 1e-9 {
		t.Errorf("a cube filled by 15 %%: %g mm3, want %g", got, want)
	}
	if got := (&mesh.Shape{Volume: 100 * 100 * 2, Area: 2*100*100 + 4*200}).Material(0); got != 20000 {
		t.Errorf("a plate of 2 mm: %g mm3, want all 20000", got)
	}
	if got := (&mesh.Shape{Volume: 8000, Area: 2400}).Material(1); got != 8000 {
		t.Errorf("solid: %g mm3", got)
	}
}
