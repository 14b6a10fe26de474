package blocking_test

import (
	"testing"

	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// TestClashBetweenLines moves two blocks that share a plate slightly thinner than the
// pitch: along two axes it is a strip that lies between two sample lines at some places,
// and still it is a clash seen along all three.
func TestClashBetweenLines(t *testing.T) {
	const pitch, thick = 0.3, 0.26
	for axis := range 3 {
		for n := range 10 {
			at := float64(n) * pitch / 10
			a, b := [2][3]float64{{}, {10, 10, 10}}, [2][3]float64{{}, {10, 10, 10}}
			a[0][axis], a[1][axis] = at, at+5
			b[0][axis], b[1][axis] = at+5-thick, at+9
			m := measured(t, blocking.Settings{Pitch: pitch},
				meshtest.Box(a[0], a[1]), meshtest.Box(b[0], b[1]),
				meshtest.Box([3]float64{-20, -20, -20}, [3]float64{-19, -19, -19}))
			for d := range 6 {
				if got := m.Blocks(0, 1, d); got != blocking.Clash {
					t.Errorf("overlap of %g mm along axis %d at %.2f mm, seen along %v: %v", thick, axis, at, m.Directions[d], relation(got))
				}
			}
		}
	}
}
