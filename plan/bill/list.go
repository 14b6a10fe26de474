// Package bill makes a kit's bill of materials: parts with their numbers,
// quantities and spares, and fixings.
package bill

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
)

// Item is a line of the list.
type Item struct {
	Part      *kits.Part
	Number    string
	Build     int   // index in the sequence's builds: the one it is first used in; 0, the main one, for what is never in the model
	Steps     []int // numbers of the steps that bring its copies to the model, each once, ascending
	Spares    int   // beyond those in the model
	Suggested bool  // the kit does not state the spares
	LooksLike []*kits.Part
}

// List lists all parts of a kit: the builds in the order of the steps with the
// main one last, then what is never in the model; by number within each.
// Look-alikes need meshes; without a proven order, builds and steps are those
// that the file suggests.
func List(rep *plan.Project) []Item {
	q, n, u := rep.Draft(), NewNumbers(rep), usesOf(rep)
	list := make([]Item, 0, len(rep.Kit.Parts))
	for _, p := range rep.Kit.Parts {
		spares, suggested := Spares(p)
		list = append(list, Item{p, n.Of(p), u.build(p), u.steps(p), spares, suggested, u.lookAlikes(p)})
	}
	builds := append(q.SubBuilds(), 0)
	rank := func(i Item) int {
		if !i.Part.InModel() {
			return len(builds) + slices.Index(builds, i.Build)
		}
		return slices.Index(builds, i.Build)
	}
	slices.SortStableFunc(list, func(a, b Item) int {
		return cmp.Or(cmp.Compare(rank(a), rank(b)), Natural(a.Number, b.Number))
	})
	return list
}

// smallThing is the longest side, in mm, of a part that is easily lost (ours).
const smallThing = 15

// Spares is how many of a part to have beyond those in the model: what the kit says
// or, for small bought parts, a tenth and at least one (common practice), which is a
// suggestion.
func Spares(p *kits.Part) (n int, suggested bool) {
	if p.StatesSpares() || !p.InModel() || !p.Bought || p.Size == nil {
		return p.Spares, false
	}
	if slices.Max(p.Size.XYZ[:]) > smallThing {
		return 0, false
	}
	return max(1, int(math.Ceil(float64(p.Quantity)/10))), true
}

// Natural compares numbers as people sort them: A2 before A10.
func Natural(a, b string) int {
	a1, a2, a3 := split(a)
	b1, b2, b3 := split(b)
	return cmp.Or(cmp.Compare(a1, b1), cmp.Compare(a2, b2), cmp.Compare(a3, b3))
}

// split splits a number into what comes before its first digits, the digits, and
// the rest.
func split(s string) (string, int, string) {
	i := strings.IndexAny(s, "0123456789")
	if i < 0 {
		return s, 0, ""
	}
	j := i
	for j < len(s) && s[j] >= '0' && s[j] <= '9' {
		j++
	}
	n, err := strconv.Atoi(s[i:j])
	if err != nil {
		return s, 0, "" // more digits than any number has
	}
	return s[:i], n, s[j:]
}
