package page_test

import (
	"context"
	"fmt"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"dryfit/graphviz/booklet"
	"dryfit/graphviz/document"
	"dryfit/graphviz/page"
	"dryfit/graphviz/report"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/draft"
	"dryfit/plan/explain"
	"dryfit/plan/next"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
)

// What check, order, why, next, the booklet and the page say about last calls is the same: for the
// demonstration kit with its meshes, without, and for a kit drafted from its meshes alone.
func TestLastCallsAgree(t *testing.T) {
	meshes := projecttest.Load(t)
	t.Run("with meshes", func(t *testing.T) { agrees(t, meshes) })
	t.Run("without meshes", func(t *testing.T) {
		k := *meshes.Kit
		k.Meshes = ""
		p, err := project.Of(context.Background(), &k, project.Options{})
		if err != nil {
			t.Fatal(err)
		}
		agrees(t, p)
		with := called(meshes)
		for name := range called(p) {
			if !with[name] {
				t.Errorf("with meshes there is no last call for %s", name)
			}
		}
	})
	t.Run("drafted", func(t *testing.T) {
		kitstest.Repeats(t, "those of the kit as it is written")
		dir := projecttest.Copy(t)
		m, err := draft.MeasureMeshes(context.Background(), filepath.Join(dir, demo.MeshFolder), project.Options{})
		if err != nil {
			t.Fatal(err)
		}
		_, p, err := m.Draft(context.Background(), filepath.Join(dir, "draft.yaml"), "Draft", demo.MeshFolder, "mm", 1)
		if err != nil {
			t.Fatal(err)
		}
		agrees(t, p)
	})
}

// called marks the pieces and wires that there are last calls for.
func called(p *plan.Project) map[string]bool {
	list := map[string]bool{}
	for _, v := range p.Sequence.Order {
		for _, c := range p.Sequence.LastCall(v) {
			if c.Piece >= 0 {
				list[p.Kit.Pieces[c.Piece].ID] = true
			} else if c.Wire != "" {
				list[c.Wire] = true
			}
		}
	}
	return list
}

func agrees(t *testing.T, p *plan.Project) {
	q := p.Sequence
	if q == nil {
		t.Fatalf("there is no order: %+v", p.Findings)
	}
	want, calls := map[int][]string{}, 0
	for _, v := range q.Order {
		for _, r := range q.Reminders(v) {
			want[q.Place[v]] = append(want[q.Place[v]], r.Text)
		}
		calls += len(q.LastCall(v))
	}
	if calls == 0 {
		t.Fatal("there are no last calls to agree on")
	}
	if got := callsOf(report.Order(p).Document.Chapters); !same(got, want, slices.Equal[[]string]) {
		t.Errorf("order says %v, want %v", got, want)
	}
	checked := map[int][]string{}
	for _, s := range report.Check(p).Data.(report.CheckData).LastCalls {
		checked[s.Number] = s.LastCall
	}
	if !same(checked, want, slices.Equal[[]string]) {
		t.Errorf("check says %v, want %v", checked, want)
	}
	bare := *p
	bare.Meshes = nil // pictures take long, and do not say it
	made, err := booklet.Make(context.Background(), &bare, booklet.Options{Language: words.English})
	if err != nil {
		t.Fatal(err)
	}
	some := func(a, b []string) bool { return (len(a) > 0) == (len(b) > 0) }
	if got := callsOf(made.Book.Chapters); !same(got, want, some) {
		t.Errorf("the booklet says %v, want %v", got, want)
	}
	got := map[int][]string{}
	for _, s := range page.ModelOf(p).Steps {
		for _, c := range s.LastCall {
			got[s.Number] = append(got[s.Number], c.Text)
		}
	}
	if !same(got, want, slices.Equal[[]string]) {
		t.Errorf("the page says %v, want %v", got, want)
	}
	whyAgrees(t, p)
	nextAgrees(t, p)
}

// callsOf are the last calls of the steps of a document, by their numbers.
func callsOf(chapters []document.Chapter) map[int][]string {
	got := map[int][]string{}
	for _, c := range chapters {
		for _, b := range c.Blocks {
			if s, is := b.(document.Step); is && s.LastCall != nil {
				got[s.Number] = s.LastCall.Items
			}
		}
	}
	return got
}

func same(a, b map[int][]string, equal func(a, b []string) bool) bool {
	for _, x := range []map[int][]string{a, b} {
		for n := range x {
			if !equal(a[n], b[n]) {
				return false
			}
		}
	}
	return true
}

var stepNumber = regexp.MustCompile(`step (\d+),`)

// whyAgrees: each last call for a piece or a wire is told by why, with its step.
func whyAgrees(t *testing.T, p *plan.Project) {
	q := p.Sequence
	var got, want []string
	for _, v := range q.Order {
		for _, c := range q.LastCall(v) {
			name := c.Wire
			if c.Piece >= 0 {
				name = p.Kit.Pieces[c.Piece].ID
			}
			if name != "" {
				want = append(want, fmt.Sprintf("%s %s %d", c.What, name, q.Place[c.Step]))
			}
		}
	}
	names := make([]string, 0, len(p.Kit.Pieces)+len(p.Kit.Wires))
	for _, piece := range p.Kit.Pieces {
		names = append(names, piece.ID)
	}
	for _, w := range p.Kit.Wires {
		names = append(names, w.ID)
	}
	for _, name := range names {
		list, err := explain.Ask(p, name)
		if err != nil {
			t.Fatal(err)
		}
		for _, line := range list[0].LastCall {
			what := progress.TickFit
			switch {
			case strings.HasPrefix(line, "last call to paint"):
				what = progress.TickPaint
			case slices.ContainsFunc(p.Kit.Pieces, func(x kits.Piece) bool { return x.ID == name }):
			default:
				what = progress.TickThread
			}
			got = append(got, fmt.Sprintf("%s %s %s", what, name, stepNumber.FindStringSubmatch(line)[1]))
		}
	}
	slices.Sort(got)
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("why says %v, want %v", got, want)
	}
}

// nextAgrees: the insides that next asks to be painted before a step are those of its last
// call.
func nextAgrees(t *testing.T, p *plan.Project) {
	none, err := progress.Read("none.yaml", nil)
	if err != nil {
		t.Fatal(err)
	}
	todo := next.New(p, none.Of(p.Kit))
	for _, j := range slices.Concat(todo.Now, todo.Soon, todo.Then) {
		var want []int
		for _, c := range p.Sequence.LastCall(j.Step) {
			if c.What == progress.TickPaint {
				want = append(want, c.Piece)
			}
		}
		if !slices.Equal(j.Inside, want) {
			t.Errorf("before %s next asks to paint %v inside, want %v", p.Constraints.Name(j.Step), j.Inside, want)
		}
	}
}
