package geom

import "testing"

func TestExtent(t *testing.T) {
	a, b := Box{Vec{1, 2, 3}, Vec{2, 4, 6}}, Box{Vec{-1, 3, 0}, Vec{1.5, 3.5, 9}}
	if got := a.Around(b); got != (Box{Vec{-1, 2, 0}, Vec{2, 4, 9}}) {
		t.Errorf("around both: %v", got)
	}
	if got := Nothing().With(a.Min).With(a.Max); got != a {
		t.Errorf("a box of its corners: %v", got)
	}
	if got := a.Moved(Vec{1, 0, -3}); got != (Box{Vec{2, 2, 0}, Vec{3, 4, 3}}) {
		t.Errorf("moved: %v", got)
	}
	if low, high := a.Along(Vec{0, -2, 1}); low != -5 || high != 2 {
		t.Errorf("reaches from %v to %v, want -5 to 2", low, high)
	}
}
