package draft_test

import (
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/project/projecttest"
)

// TestDraftOfDemo: what is drafted from the meshes of the demonstration kit alone has
// an order without a finding, and in it everything that the kit says is inside is
// inside when its space closes. It is much like the kit as it was designed.
func TestDraftOfDemo(t *testing.T) {
	if testing.Short() {
		t.Skip("it takes long under the race detector")
	}
	rep := draftOf(t, projecttest.Copy(t), demo.MeshFolder)
	for _, f := range rep.Findings {
		t.Errorf("%s, %s: %s", f.Grade, f.Kind, f.Text)
	}
	full := kitstest.Read(t, string(demo.Kit))
	compare(t, full, rep).atLeast(t, 92, 91, 9)
	joined := joinTimes(t, full, rep)
	rules := plan.Derive(full)
	held := 0
	for i := range rules.Access {
		e := &rules.Access[i]
		if e.Piece < 0 || len(full.Fitted(e.Piece).Onto) == 0 {
			continue
		}
		held++
		base := full.Fitted(e.Piece).Onto[0]
		in, way := joined(e.Piece, base), false
		for _, w := range e.Routes {
			way = way || w.Pass != plan.Cannot && (len(w.Blockers) == 0 || w.Closer.Piece < 0 || in <= joined(w.Closer.Piece, base))
		}
		if !way {
			t.Errorf("%s goes in at step %d, when %s is closed", full.Pieces[e.Piece].ID, in, e.Space.ID)
		}
	}
	if held < 50 {
		t.Errorf("only %d pieces are held in spaces", held)
	}
}

// joinTimes replays the steps of a draft. It returns a function that tells with which
// step two pieces of the full kit come into one group.
func joinTimes(t *testing.T, full *kits.Kit, rep *plan.Project) func(a, b int) int {
	t.Helper()
	number := map[string]int{}
	for i, p := range rep.Kit.Pieces {
		number[p.ID] = i
	}
	group := make([]int, len(rep.Kit.Pieces))
	for i := range group {
		group[i] = i
	}
	states := [][]int{append([]int(nil), group...)}
	for _, v := range rep.Sequence.Order {
		j := rep.Constraints.Steps[v].Join
		for _, pair := range pairsOf(j) {
			from, to := group[pair[0]], group[pair[1]]
			for i := range group {
				if group[i] == from {
					group[i] = to
				}
			}
		}
		states = append(states, append([]int(nil), group...))
	}
	return func(a, b int) int {
		x, okA := number[full.Pieces[a].ID]
		y, okB := number[full.Pieces[b].ID]
		if !okA || !okB {
			t.Fatalf("the draft lacks %s or %s", full.Pieces[a].ID, full.Pieces[b].ID)
		}
		for step, g := range states {
			if g[x] == g[y] {
				return step
			}
		}
		t.Fatalf("%s and %s never come together", full.Pieces[a].ID, full.Pieces[b].ID)
		return 0
	}
}

func pairsOf(j *kits.Join) [][2]int {
	if j.IsClose() {
		return [][2]int{{j.Pieces[0], j.Pieces[1]}}
	}
	var list [][2]int
	for _, p := range j.Pieces {
		list = append(list, [2]int{p, j.Onto[0]})
	}
	return list
}
