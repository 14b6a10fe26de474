package blocking_test

import (
	"context"
	"fmt"
	"math"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/plan/blocking"
)

// measured looks at pieces given as triangles; they are named by their numbers.
func measured(t testing.TB, s blocking.Settings, lists ...[]mesh.Triangle) *blocking.Model {
	t.Helper()
	var pieces []*mesh.Mesh
	for i, list := range lists {
		m, err := mesh.FromTriangles(fmt.Sprint(i), list)
		if err != nil {
			t.Fatal(err)
		}
		pieces = append(pieces, m)
	}
	m, err := blocking.Measure(context.Background(), pieces, s)
	if err != nil {
		t.Fatal(err)
	}
	for p, n := range m.NotClosed {
		if n != 0 {
			t.Errorf("piece %d, a closed solid, is said not to be closed along %d lines", p, n)
		}
	}
	return m
}

// sameWay is by how many radians a direction may miss another and still be it: over
// 100 mm a hundredth of a mm.
const sameWay = 1e-4

// along is the number of the model's direction that is d; the test ends when it does
// not look along d at all.
func along(t testing.TB, m *blocking.Model, d vec) int {
	t.Helper()
	best, least := -1, math.Inf(1)
	for i, e := range m.Directions {
		if a := angle(d, e); a < least {
			best, least = i, a
		}
	}
	if least > sameWay {
		t.Fatalf("the model is not looked at along %.6f; the nearest direction is %.4f degrees off", d, degrees(least))
	}
	return best
}

// verdict is what an exact method says of a relation: Free or Blocked, or that the
// sampled method may say either because what overlaps is about as wide as the pitch.
type verdict int

const (
	either verdict = iota
	free
	blocked
)

func (v verdict) String() string { return [...]string{"either", "free", "blocked"}[v] }

// agrees reports whether the model may say r where the exact method says v. A clash
// is never right between solids that do not overlap.
func (v verdict) agrees(r blocking.Relation) bool {
	switch v {
	case free:
		return r == blocking.Free
	case blocked:
		return r == blocking.Blocked
	}
	return r != blocking.Clash
}

func relation(r blocking.Relation) string {
	return map[blocking.Relation]string{blocking.Free: "free", blocking.Blocked: "blocked", blocking.Clash: "clash"}[r]
}

// checkDirections holds what the package promises of them: of length one, each
// followed by its opposite, no line twice, the six axes, the twelve edges and the
// eight corners of a cube among them.
func checkDirections(t testing.TB, m *blocking.Model) {
	t.Helper()
	for i, d := range m.Directions {
		if math.Abs(norm(d)-1) > 1e-12 {
			t.Errorf("direction %v is not of length one", d)
		}
		if i%2 == 0 && m.Directions[i+1] != times(-1, d) {
			t.Errorf("direction %v is followed by %v, not by its opposite", d, m.Directions[i+1])
		}
		for _, e := range m.Directions[:i] {
			if norm(sub(d, e)) < 1e-9 {
				t.Errorf("direction %v stands twice", d)
			}
		}
	}
	for _, d := range neighbours() {
		along(t, m, unit(d))
	}
}

// neighbours are the 26 steps from a cell to those round it.
func neighbours() (all []vec) {
	for x := -1.0; x <= 1; x++ {
		for y := -1.0; y <= 1; y++ {
			for z := -1.0; z <= 1; z++ {
				if x != 0 || y != 0 || z != 0 {
					all = append(all, vec{x, y, z})
				}
			}
		}
	}
	return all
}
