package lights

import (
	"math"
	"testing"

	"dryfit/kits/geom"
)

// Preferred values by IEC 60063:2015 (from memory): each is its own next value, what lies just above it
// goes to the next, in every decade. The two lists are typed here once more, from the
// standard as suppliers print it.
func TestSeries(t *testing.T) {
	for _, c := range []struct {
		s    Series
		list []float64
	}{
		{E12, []float64{1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2, 10}},
		{E24, []float64{1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1, 10}},
	} {
		for _, decade := range []float64{1, 10, 100, 1e3, 1e4, 1e5, 1e6} {
			for i := 0; i < len(c.list)-1; i++ {
				v, next := c.list[i]*decade, c.list[i+1]*decade
				if got := c.s.Up(v); math.Abs(got-v) > 1e-9*v || !c.s.Has(v) {
					t.Errorf("%s: %g goes up to %g", c.s.Name, v, got)
				}
				if got := c.s.Up(v * 1.0001); math.Abs(got-next) > 1e-9*next || c.s.Has(v*1.0001) {
					t.Errorf("%s: a little over %g goes up to %g, not to %g", c.s.Name, v, got, next)
				}
			}
		}
	}
}

// A value in between, by both series, from the formula: red lamp of 2 V at 5 mA on
// 9 V is 1400 ohm; white of 3.2 V at 5, 2 and 10 mA 1160, 2900 and 580 ohm (worked by
// hand).
func TestResistance(t *testing.T) {
	for _, c := range []struct {
		n                           int
		forward, mA, want, e12, e24 float64
	}{
		{1, 2.0, 5, 1400, 1500, 1500}, {1, 3.2, 5, 1160, 1200, 1200}, {1, 3.2, 2, 2900, 3300, 3000}, {1, 3.2, 10, 580, 680, 620},
		{2, 2.0, 10, 500, 560, 510}, {2, 3.2, 5, 520, 560, 560},
	} {
		r := Resistance(9, c.n, c.forward, c.mA)
		if math.Abs(r-c.want) > 1e-9 || E12.Up(r) != c.e12 || E24.Up(r) != c.e24 {
			t.Errorf("%d x %g V at %g mA: %g ohm, E12 %g, E24 %g; want %g, %g, %g", c.n, c.forward, c.mA, r, E12.Up(r), E24.Up(r), c.want, c.e12, c.e24)
		}
	}
	if r := Resistance(9, 3, 3.2, 5); r >= 0 {
		t.Errorf("nothing is left of 9 V for three lamps of 3.2 V, yet %g ohm", r)
	}
	if i := Current(6, 2, 3.2, 560); i != 0 {
		t.Errorf("%g mA flow at 6 V through lamps that take 6.4 V", i)
	}
}

// Bare diameters of solid wire, mm, by ASTM B258 as tabulated to 0.001 mm (from
// memory; they agree with the formula's definition at 36 and at 0000, 0.46 inch).
func TestWireGauge(t *testing.T) {
	for gauge, want := range map[int]float64{22: 0.644, 24: 0.511, 26: 0.405, 28: 0.321, 30: 0.255, 32: 0.202, 34: 0.160, 36: 0.127} {
		if d := Diameter(gauge); math.Abs(d-want) > 0.0005 {
			t.Errorf("AWG %d is %.4f mm, want %g", gauge, d, want)
		}
	}
	if d := Diameter(-3); math.Abs(d-11.684) > 0.0005 {
		t.Errorf("AWG 0000 is %.4f mm, want 0.46 inch", d)
	}
	// Copper wire of 30: 0.34 ohm a metre (common practice).
	if r := OhmPerMetre(30); math.Abs(r-0.34) > 0.005 {
		t.Errorf("AWG 30 has %.3f ohm/m", r)
	}
}

// Ratings of at least twice the power: 60 mW need 1/8 W, 63 mW 1/4 W.
func TestRating(t *testing.T) {
	for p, want := range map[float64]float64{0: 125, 62.5: 125, 63: 250, 125: 250, 240: 500, 2500: 5000, 2501: 0} {
		if got := Rating(p); got != want {
			t.Errorf("%g mW: %g, want %g", p, got, want)
		}
	}
}

// Eight wires of 0.55 mm take 15 % of a hole of 4 mm: 8 x 0.3025 / 16 (by hand).
func TestFill(t *testing.T) {
	if f := Fill(8, 0.55, 4); math.Abs(f-0.15125) > 1e-9 {
		t.Errorf("%g", f)
	}
}

// A way through a box that is on it costs nothing; one beside it costs what two
// right-angled triangles say: 3, 4, 5 twice.
func TestShortRoute(t *testing.T) {
	point := func(x, y, z float64) geom.Box { return geom.Box{Min: geom.Vec{x, y, z}, Max: geom.Vec{x, y, z}} }
	if d := shortRoute([]geom.Box{point(0, 0, 0), {Min: geom.Vec{1, -5, -5}, Max: geom.Vec{3, 5, 5}}, point(8, 0, 0)}); math.Abs(d-8) > 1e-6 {
		t.Errorf("straight through: %g, want 8", d)
	}
	if d := shortRoute([]geom.Box{point(0, 0, 0), {Min: geom.Vec{-9, 3, 0}, Max: geom.Vec{99, 7, 0}}, point(8, 0, 0)}); math.Abs(d-10) > 1e-6 {
		t.Errorf("by a box beside: %g, want 10", d)
	}
}
