package rehearse

import (
	"slices"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// A sequence that can be replayed is left as it is. One that cannot is dropped, with a
// fault that names the step.
func TestConfirm(t *testing.T) {
	p, err := explain.Check(kitstest.Read(t, `kit: Box
parts: {box: {}, seat: {}, lid: {}}
joins:
  - {fit: seat, to: box}
  - {fit: lid, to: box}
spaces:
  room: {closed-by: [lid], holds: seat}
`))
	if err != nil {
		t.Fatal(err)
	}
	q := p.Sequence
	before := slices.Clone(p.Findings)
	Confirm(p)
	if p.Sequence != q || len(p.Findings) != len(before) {
		t.Fatalf("a good sequence gets %+v", p.Findings)
	}
	slices.Reverse(q.Order)
	slices.Reverse(q.Place)
	Confirm(p)
	const want = "the order and its rehearsal disagree at step 2 (fitting seat: seat cannot get into room, which is shut by lid): please report this with the kit file"
	f := p.Findings[0]
	if p.Sequence != nil || p.OK() || f.Kind != plan.Rehearsal || f.Text != want || f.Piece != "seat" || !slices.Equal(f.Steps, []int{0}) {
		t.Errorf("a sequence: %v, finding: %+v", p.Sequence != nil, f)
	}
	Confirm(p)
	if p.Count(plan.Fault) != 1 {
		t.Errorf("no sequence gets %+v", p.Findings)
	}
	p.Sequence = q
	walk := &Result{Failure: &Failure{Kind: GivenUp}}
	f = disagreement(p, "the order", walk, q.Acts())
	if f.Kind != plan.Limit || f.Grade != plan.Fault || len(f.Repairs) != 2 || f.Text != "the order is not proven: what has to be taken off and put back for fitting lid takes more work to find out than dryfit does" {
		t.Errorf("what takes too long gets %+v", f)
	}
}
