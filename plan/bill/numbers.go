package bill

import (
	"slices"
	"strconv"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
)

// Numbers are the part numbers that a builder finds on the parts, in the lists
// and in the pictures: the designer's own where the kit gives them, otherwise the
// letter of the part's sub-build and a number counted within it; in the main
// build the number alone. Copies of a part share its number, and mirrored parts
// one with P and S, or L and R, behind it if their names say which is which.
type Numbers struct {
	kit    *kits.Kit
	byPart map[*kits.Part]string
	taken  map[string]bool
	count  map[string]int // by letter: the last number given
}

// NewNumbers numbers the parts of a kit in the order of its steps.
func NewNumbers(rep *plan.Project) *Numbers {
	k, q := rep.Kit, rep.Draft()
	n := &Numbers{k, map[*kits.Part]string{}, map[string]bool{}, map[string]int{}}
	for _, p := range k.Parts {
		if p.Number != "" {
			n.set(p, p.Number)
		}
	}
	for _, v := range q.Order {
		letter, b := "", q.Builds[q.BuildOf[v]]
		if q.BuildOf[v] > 0 {
			letter = b.Letter
		}
		if b.Base >= 0 {
			n.give(letter, k.Pieces[b.Base].Part)
		}
		if j := rep.Constraints.Steps[v].Join; j != nil {
			for _, p := range j.Pieces {
				n.give(letter, k.Pieces[p].Part)
			}
		}
	}
	for _, p := range k.Parts {
		n.give("Z", p) // jigs and spares, which no step fits
	}
	return n
}

func (n *Numbers) set(p *kits.Part, number string) {
	n.byPart[p], n.taken[number] = number, true
}

// give numbers a part that has no number yet, and with it its mirror image.
func (n *Numbers) give(letter string, p *kits.Part) {
	if n.byPart[p] != "" {
		return
	}
	own, other := sides(p)
	if own == "" || n.byPart[p.Pair] != "" {
		n.set(p, n.next(letter, ""))
		return
	}
	number := n.next(letter, own, other)
	n.set(p, number+own)
	n.set(p.Pair, number+other)
}

// next counts up to the first number that is free with all of some suffixes.
func (n *Numbers) next(letter string, endings ...string) string {
	for {
		n.count[letter]++
		number := letter + strconv.Itoa(n.count[letter])
		if !slices.ContainsFunc(endings, func(end string) bool { return n.taken[number+end] }) {
			return number
		}
	}
}

// sides are the letters that distinguish a part from its mirror image, from their
// names; empty if the names do not say.
func sides(p *kits.Part) (own, other string) {
	if p.Pair == nil {
		return "", ""
	}
	a, b := strings.ToLower(p.ID+" "+p.Name), strings.ToLower(p.Pair.ID+" "+p.Pair.Name)
	for _, w := range [][2]string{{"port", "starboard"}, {"left", "right"}, {"starboard", "port"}, {"right", "left"}} {
		if strings.Contains(a, w[0]) && strings.Contains(b, w[1]) {
			return strings.ToUpper(w[0][:1]), strings.ToUpper(w[1][:1])
		}
	}
	return "", ""
}

// Of is the number of a part.
func (n *Numbers) Of(p *kits.Part) string { return n.byPart[p] }

// Piece is the number of a piece's part.
func (n *Numbers) Piece(piece int) string { return n.byPart[n.kit.Pieces[piece].Part] }
