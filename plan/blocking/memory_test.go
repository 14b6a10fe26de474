package blocking_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// staggered is boxes on one spot, none with a corner where another has one.
func staggered(t *testing.T, n int) []*mesh.Mesh {
	t.Helper()
	var list []*mesh.Mesh
	for i := range n {
		d := float64(i) / 50
		m, err := mesh.FromTriangles(fmt.Sprint("box-", i), meshtest.Box([3]float64{d, -d, d}, [3]float64{10 + 2*d, 9, 11 + 3*d}))
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, m)
	}
	return list
}

// The need grows with the square of the fineness, and of the pieces in one place. What is
// refused says how much it would take and what to do.
func TestMemory(t *testing.T) {
	few, many := staggered(t, 2), staggered(t, 600)
	for _, c := range []struct {
		what   string
		pieces []*mesh.Mesh
		pitch  float64
		limit  int64
		says   string // empty: it is allowed
	}{
		{"two boxes", few, 0, 50 << 20, ""},
		{"a fine pitch", few, 0.003, 50 << 20, "with --pitch 0.02 or more"},
		{"many in one place", many, 0, 500 << 20, "measure fewer pieces together"},
		{"many in one place, with room", many, 0, 4 << 30, ""},
		{"no pieces", nil, 0, 1, ""},
	} {
		err := blocking.Within(c.limit, c.pieces, blocking.Settings{Pitch: c.pitch})
		if (err == nil) != (c.says == "") || err != nil && (!errors.Is(err, blocking.ErrMemory) || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%s: %v, want %q", c.what, err, c.says)
		}
	}
	if err := blocking.Within(1, few, blocking.Settings{Pitch: -1}); err == nil || errors.Is(err, blocking.ErrMemory) {
		t.Errorf("a negative pitch: %v", err)
	}
}
