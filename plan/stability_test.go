package plan_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// A piece on which nothing depends may be added anywhere in the demonstration kit:
// no step before it gets another number, and no two others change places.
func TestOneMorePieceMovesNothing(t *testing.T) {
	before := names(demoReport(t))
	base := demoReport(t)
	kit := base.Kit
	coat := slices.IndexFunc(before, func(s string) bool { return strings.HasPrefix(s, "Outside coat") })
	all := make([]int, len(kit.Pieces))
	for i := range all {
		all[i] = i
	}
	late := 0
	for _, i := range kitstest.Some(t, 10, all) {
		for n, v := range variants {
			// What goes on a piece that comes after the coat cannot be painted with it:
			// there is no order, or the piece itself must move.
			if j := kit.Fitted(i); strings.Contains(v.part, "outside") && j != nil && slices.Index(before, fits(base, j)) > coat {
				late++
				continue
			}
			text := withExtra(string(demo.Kit), kit.Pieces[i].ID, v)
			name := fmt.Sprintf("on %s, variant %d", kit.Pieces[i].ID, n)
			k, err := kits.Read("kit.yaml", []byte(text))
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			rep, err := explain.Check(k)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			if rep.Sequence == nil {
				t.Fatalf("%s:\n%s", name, listed(rep.Findings))
			}
			after := names(rep)
			at := slices.Index(after, "extra")
			if !slices.Equal(slices.Delete(slices.Clone(after), at, at+1), before) {
				t.Errorf("%s: others have moved: %s", name, firstDifference(before, slices.Delete(slices.Clone(after), at, at+1)))
			}
			if !slices.Equal(after[:at], before[:at]) {
				t.Errorf("%s: a step before it has another number", name)
			}
		}
	}
	if late > len(kit.Pieces) {
		t.Errorf("%d variants cannot be built; too few are left to mean much", late)
	}
}

// fits is what the step of a join does.
func fits(rep *plan.Project, j *kits.Join) string {
	v := slices.IndexFunc(rep.Constraints.Steps, func(s plan.Step) bool { return s.Join == j })
	return rep.Constraints.Does(v)
}

type variant struct {
	where string // the join it is written behind; empty for the end of the list
	with  string
	part  string
}

var variants = []variant{
	{"", "ca", "{printed: resin}"},
	{"", "epoxy-fast", "{printed: filament, fragile: true, paint: off-model}"},
	{"fit: console-port", "ca", "{printed: resin, paint: before-fit}"},
	{"fit: tailplane-port", "magnet", "{bought: true}"},
	{"", "ca", "{printed: resin, paint: outside}"},
	{"fit: locker", "epoxy", "{printed: resin, paint: outside, fragile: true}"},
}

func withExtra(text, onto string, v variant) string {
	join := fmt.Sprintf("  - {fit: extra, to: %s, with: %s}\n", onto, v.with)
	text = strings.Replace(text, "\njoins:\n", "\n  extra: "+v.part+"\n\njoins:\n", 1)
	if v.where == "" {
		return strings.Replace(text, "\nspaces:\n", "\n"+join+"\nspaces:\n", 1)
	}
	at := strings.Index(text, v.where)
	end := at + strings.Index(text[at:], "\n") + 1
	return text[:end] + join + text[end:]
}

// names lists the steps of the order by what they do, without numbers.
func names(rep *plan.Project) []string {
	var list []string
	for _, v := range rep.Sequence.Order {
		s := rep.Constraints.Steps[v]
		switch {
		case s.Join != nil && rep.Kit.Pieces[s.Join.Pieces[0]].Part.ID == "extra":
			list = append(list, "extra")
		default:
			list = append(list, rep.Constraints.Does(v))
		}
	}
	return list
}

func firstDifference(a, b []string) string {
	for i := range a {
		if a[i] != b[i] {
			return fmt.Sprintf("place %d was %q, is %q", i+1, a[i], b[i])
		}
	}
	return ""
}
