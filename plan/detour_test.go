package plan

import (
	"testing"

	"dryfit/kits/kitstest"
)

// What a detour asks of its order is not asked of all orders.
func TestDetourKeepsOrders(t *testing.T) {
	r := Derive(kitstest.Read(t, `kit: Box
parts: {box: {}, gem: {}, lid: {}, flag: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: gem, to: box, with: ca, after: lid}
  - {fit: flag, to: box}
spaces:
  room: {closed-by: [lid], holds: gem}
`))
	s := r.Solve()
	s.Narrow = s.System
	found := s.detours([]int{0, 1, 2})
	if found[1] == nil || s.Narrow.Freedom(60).Earliest[2] != 3 {
		t.Fatalf("detours %v; the lid is off for the gem, and the flag comes after that", found)
	}
	if got := s.System.Freedom(60).Earliest[2]; got != 1 {
		t.Errorf("the flag can come first, and now is at %d", got)
	}
}
