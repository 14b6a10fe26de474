package geom

import (
	"math"
	"testing"
)

func TestVec(t *testing.T) {
	a, b := Vec{1, 2, 3}, Vec{-2, 0, 5}
	if c := a.Cross(b); c.Dot(a) != 0 || c.Dot(b) != 0 || c != (Vec{10, -11, 4}) {
		t.Errorf("cross product %v", c)
	}
	if u := (Vec{0, 0, -3}).Unit(); u != (Vec{0, 0, -1}) {
		t.Errorf("unit %v", u)
	}
	for k, x := range (Vec{0, 1, 0}).Opposite() {
		if math.Signbit(x) != (k == 1) {
			t.Errorf("component %d of the opposite of y is %v", k, x)
		}
	}
}

// A fiftieth of a degree apart is the same direction, a twentieth is not.
func TestSameDirection(t *testing.T) {
	x := Vec{1, 0, 0}
	at := func(degrees float64) Vec {
		s, c := math.Sincos(degrees * math.Pi / 180)
		return Vec{7 * c, 7 * s, 0}
	}
	if !x.SameDirection(at(0.02)) || x.SameDirection(at(0.05)) {
		t.Error("the limit is not a fiftieth of a degree")
	}
}

func TestBox(t *testing.T) {
	b := Box{Vec{1, 2, 3}, Vec{2, 4, 6}}
	if b.Size() != (Vec{1, 2, 3}) || b.Centre() != (Vec{1.5, 3, 4.5}) {
		t.Errorf("size %v, centre %v", b.Size(), b.Centre())
	}
	if c := b.Corners(); c[0] != b.Min || c[7] != b.Max || c[1] != (Vec{2, 2, 3}) {
		t.Errorf("corners %v", c)
	}
	if b.With(Vec{0, 3, 9}) != (Box{Vec{0, 2, 3}, Vec{2, 4, 9}}) {
		t.Error("the box does not grow to hold a point")
	}
}

func TestReverse(t *testing.T) {
	out := []Leg{{Vec{0, 0, 1}, 5}, {Vec{1, 0, 0}, math.Inf(1)}}
	in := Reverse(out)
	if len(in) != 2 || !in[0].Endless() || in[0].Toward != (Vec{-1, 0, 0}) || in[1] != (Leg{Vec{0, 0, -1}, 5}) {
		t.Errorf("%v reversed is %v", out, in)
	}
}

func TestRound(t *testing.T) {
	if got := (Vec{1.25, -0.001, 2}).Round(1); got != (Vec{1.3, 0, 2}) || math.Signbit(got[1]) {
		t.Errorf("rounded to %v", got)
	}
	if got := Round(-2.449, 1); got != -2.4 {
		t.Errorf("rounded to %v", got)
	}
}
