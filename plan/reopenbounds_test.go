package plan_test

import (
	"fmt"
	"strings"
	"testing"
)

// The lid goes on before the gem and comes off for it. The bar then shuts the lid in, which
// no clause says: so no place in another order is more than a bound.
func TestPlacesAreBoundsWhereJoinsReopen(t *testing.T) {
	q := checked(t, `
kit: Bounds
parts: {box: {}, lid: {}, gem: {}, bar: {}}
joins:
  - {fit: lid, to: box, with: magnet}
  - {fit: gem, to: box, with: ca, after: lid}
  - {fit: bar, to: box, with: epoxy}
spaces: {room: {closed-by: [lid], holds: gem}, attic: {closed-by: [bar], holds: lid}}
`).Sequence
	if f := q.Freedom(); !f.Loose || f.Bound[0] != true || f.Bound[1] != true || f.Bound[2] != true {
		t.Errorf("said to be exact: %+v", f)
	}
	if f := checked(t, roofKit).Sequence.Freedom(); f.Loose {
		t.Error("nothing reopens here, and the places are exact")
	}
}

// With so many gems and loose pieces that not all can be looked into, each gem still has
// its call before the lid is shut in.
func TestNoCallIsDropped(t *testing.T) {
	const gems, loose = 400, 700
	var parts, joins, held strings.Builder
	for i := range gems {
		fmt.Fprintf(&parts, ", g%d: {}", i)
		fmt.Fprintf(&joins, "  - {fit: g%d, to: box, with: ca}\n", i)
		fmt.Fprintf(&held, "g%d,", i)
	}
	joins.WriteString("  - {fit: lid, to: box, with: magnet}\n")
	for i := range loose {
		fmt.Fprintf(&parts, ", m%d: {}", i)
		fmt.Fprintf(&joins, "  - {fit: m%d, to: box, with: loose}\n", i)
	}
	q := checked(t, "kit: Calls\nparts: {box: {}, lid: {}, bar: {}"+parts.String()+"}\njoins:\n"+joins.String()+
		"  - {fit: bar, to: box, with: epoxy}\nspaces: {room: {closed-by: [lid], holds: ["+held.String()+"]}, attic: {closed-by: [bar], holds: lid}}\n").Sequence
	calls := 0
	for v := range q.Order {
		calls += len(q.LastCall(v))
	}
	if calls != gems+1 {
		t.Errorf("%d calls, want one for each of %d gems and one for the lid", calls, gems)
	}
}
