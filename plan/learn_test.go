package plan

import (
	"testing"

	"dryfit/kits/kitstest"
)

// Learning that reaches its limit is known to have done so; less work does not.
func TestLearningGivesUp(t *testing.T) {
	r := Derive(kitstest.Read(t, `kit: Box
parts: {box: {}, gem: {}, lid: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: gem, to: box, with: ca, after: lid}
spaces:
  room: {closed-by: [lid], holds: gem}
`))
	for _, asked := range []int{0, maxAsked + 1} {
		r.asked = asked
		r.learn([]int{1, 0}, Relaxation{Reopen: true})
		if want := asked > maxAsked; r.GaveUp() != want {
			t.Errorf("with %d asked, it gave up: %v", asked, r.GaveUp())
		}
	}
	if r.Solve(); r.GaveUp() {
		t.Error("what another search gave up counts")
	}
}
