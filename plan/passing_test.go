package plan

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits"
)

// The theorem of Carver (1957) as given by J. E. Wetzel, "Rectangles in Rectangles",
// Mathematics Magazine 73 (2000) 204-211: p by q (p >= q) fits in a by b (a >= b)
// exactly if p <= a and q <= b, or p > a, q <= b and
// ((a+b)/(p+q))^2 + ((a-b)/(p-q))^2 >= 2. At the boundary the rectangle touches all
// four sides of the opening.
func TestRectangleFitsAtTheBoundary(t *testing.T) {
	// A rectangle p by q turned by angle w touches an opening of
	// a = p cos w + q sin w by b = p sin w + q cos w on all four sides.
	for _, c := range []struct{ p, q, degrees float64 }{
		{10, 1, 30}, {10, 1, 45}, {10, 2, 20}, {7, 3, 10}, {100, 0.5, 40}, {48, 4, 35},
	} {
		w := c.degrees * math.Pi / 180
		a := c.p*math.Cos(w) + c.q*math.Sin(w)
		b := c.p*math.Sin(w) + c.q*math.Cos(w)
		if c.p <= max(a, b) {
			continue // it fits without being turned so far; no boundary
		}
		const bit = 1e-6
		if !RectangleFits(c.p, c.q, a+bit, b+bit) || !RectangleFits(c.q, c.p, b+bit, a+bit) {
			t.Errorf("%g x %g does not fit into %g x %g, which it touches at %g degrees", c.p, c.q, a, b, c.degrees)
		}
		if RectangleFits(c.p, c.q, a*(1-bit), b*(1-bit)) {
			t.Errorf("%g x %g fits into an opening smaller than %g x %g", c.p, c.q, a, b)
		}
	}
}

func TestRectangleFits(t *testing.T) {
	for _, c := range []struct {
		p, q, a, b float64
		want       bool
	}{
		{10, 5, 10, 5, true}, {5, 10, 10, 5, true}, {10, 5, 9.99, 20, true}, {10, 5, 9.99, 9, false},
		{10, 10, 10, 10, true}, {10.01, 10.01, 10, 10, false}, {14, 0.1, 10, 10, true}, {14.2, 0.1, 10, 10, false},
		{48, 4, 62, 38, true},   // the ring of the demonstration kit, edgeways
		{70, 20, 62, 38, false}, // its stretcher rack, flat
	} {
		if got := RectangleFits(c.p, c.q, c.a, c.b); got != c.want {
			t.Errorf("%g x %g into %g x %g: %v", c.p, c.q, c.a, c.b, got)
		}
	}
}

// Random rectangles against turning them by small steps.
func TestRectangleFitsAgainstTurning(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	fits, turned := 0, 0
	for range 20000 {
		p, q := 1+9*rng.Float64(), 0.1+4*rng.Float64()
		a, b := 1+9*rng.Float64(), 1+9*rng.Float64()
		slack := math.Inf(-1) // room left at the best angle
		for w := 0.0; w <= math.Pi/2; w += math.Pi / 2 / 2000 {
			s, c := math.Sincos(w)
			slack = max(slack, min(a-p*c-q*s, b-p*s-q*c))
		}
		if math.Abs(slack) < 0.02 {
			continue // the steps are too coarse to tell
		}
		got := RectangleFits(p, q, a, b)
		if got != (slack > 0) {
			t.Fatalf("%g x %g into %g x %g: %v, but turning leaves %g", p, q, a, b, got, slack)
		}
		if got {
			fits++
			if (p > a || q > b) && (p > b || q > a) {
				turned++
			}
		}
	}
	if fits < 2000 || turned < 50 {
		t.Errorf("only %d fit, %d of them turned", fits, turned)
	}
}

func TestPass(t *testing.T) {
	size := &kits.Size{XYZ: [3]float64{72, 48, 4}}
	for _, c := range []struct {
		opening   *Clear
		clearance float64
		want      Passing
	}{
		{nil, 1, Straight},
		{&Clear{62, 38, "z"}, 0.8, ByTurning}, // lies flat under the hatch, goes in edgeways
		{&Clear{62, 38, ""}, 0.8, BySize},
		{&Clear{73, 49, "z"}, 1, Straight},
		{&Clear{49, 73, "z"}, 1, ByTurning}, // along y and x: it would have to be turned in the plane
		{&Clear{72.9, 49, "z"}, 1, ByTurning},
		{&Clear{49, 5, "x"}, 1, Straight}, // across x: 48 along y, 4 along z
		{&Clear{73, 5, "y"}, 1, Straight}, // across y: 72 along x, 4 along z
		{&Clear{48, 4, "x"}, 1, Cannot},
		{&Clear{48, 4, "x"}, 0, Straight},
	} {
		if got := pass(size, c.opening, c.clearance); got != c.want {
			t.Errorf("through %v with %g spare: %v, want %v", c.opening, c.clearance, got, c.want)
		}
	}
	if got := pass(nil, &Clear{1, 1, "x"}, 1); got != Unsized {
		t.Errorf("without a size: %v", got)
	}
}
