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
	Build     int   // index in the sequence's builds: the one it is first used in; 0, the main one, for what never stands in the model
	Steps     []int // numbers of the steps in which its copies come to the model, each once, ascending
	Spares    int   // to have beyond those in the model
	Suggested bool  // the kit does not state the spares
	LooksLike []*kits.Part
}

// List lists all parts of a kit: the builds in the sequence of the steps with the main
// one last, then what never stands in the model; within each by number. Without meshes no
// look-alikes are known, without a proven order builds and steps are those that the file
// suggests.
func List(p *plan.Project) []Item {
	k, q := p.Kit, p.Draft()
	n := NewNumbers(k, q)
	l := newLister(q, p.Meshes.All())
	list := make([]Item, 0, len(k.Parts))
	for _, p := range k.Parts {
		spares, suggested := Spares(p)
		list = append(list, Item{Part: p, Number: n.Of(p), Build: l.build(p), Steps: l.steps(p),
			Spares: spares, Suggested: suggested, LooksLike: l.lookAlikes(p)})
	}
	rank := map[int]int{0: len(q.Builds)}
	for i, u := range q.SubBuilds() {
		rank[u] = i
	}
	slices.SortStableFunc(list, func(a, b Item) int {
		in := func(x Item) int {
			if x.Part.InModel() {
				return 0
			}
			return 1
		}
		return cmp.Or(cmp.Compare(in(a), in(b)), cmp.Compare(rank[a.Build], rank[b.Build]), Natural(a.Number, b.Number))
	})
	return list
}

// IsPrinted reports whether a part is printed: it is neither bought nor made.
func IsPrinted(p *kits.Part) bool { return !p.Bought && !p.Made }

// smallThing is the longest side, in mm, of what is easily lost.
const smallThing = 15

// Spares is how many of a part to have beyond those in the model: what the kit says
// or, for small things that are bought, one or a tenth (common practice), which is a
// suggestion.
func Spares(p *kits.Part) (n int, suggested bool) {
	if p.Spares > 0 || !p.InModel() || !p.Bought || p.Size == nil {
		return p.Spares, false
	}
	if s := p.Size.XYZ; math.Max(s[0], math.Max(s[1], s[2])) > smallThing {
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

// split parts a number into what stands before its first figures, these, and the rest.
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
		return s, 0, "" // more figures than any number has
	}
	return s[:i], n, s[j:]
}
