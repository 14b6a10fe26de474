package bill

import (
	"strconv"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
)

// Numbers are those that a builder finds on the parts, in the lists and in the
// pictures, alike everywhere: the designer's own where the kit gives them, else the
// letter of the sub-build that a part belongs to and a number counted in it; in the
// main build the number alone. Copies of a part share its number, and mirrored parts one
// with P and S, or L and R, behind it if their names say which is which.
type Numbers struct {
	kit    *kits.Kit
	byPart map[*kits.Part]string
}

// NewNumbers numbers the parts of a kit by the sequence of its steps.
func NewNumbers(k *kits.Kit, q *plan.Sequence) *Numbers {
	n := &Numbers{k, map[*kits.Part]string{}}
	taken := map[string]bool{}
	for _, p := range k.Parts {
		if p.Number != "" {
			n.byPart[p] = p.Number
			taken[p.Number] = true
		}
	}
	count := map[string]int{}
	next := func(letter string, of ...func(int) string) int {
		for {
			count[letter]++
			free := true
			for _, f := range of {
				free = free && !taken[f(count[letter])]
			}
			if free {
				return count[letter]
			}
		}
	}
	give := func(letter string, p *kits.Part) {
		if _, has := n.byPart[p]; has {
			return
		}
		text := func(side string) func(int) string {
			return func(i int) string { return letter + strconv.Itoa(i) + side }
		}
		if own, other := sides(p); own != "" && n.byPart[p.Pair] == "" {
			i := next(letter, text(own), text(other))
			n.byPart[p], n.byPart[p.Pair] = text(own)(i), text(other)(i)
			taken[text(own)(i)], taken[text(other)(i)] = true, true
			return
		}
		i := next(letter, text(""))
		n.byPart[p], taken[text("")(i)] = text("")(i), true
	}
	letter := func(build int) string {
		if build == 0 {
			return ""
		}
		return q.Builds[build].Letter
	}
	based := map[int]bool{}
	base := func(build int) {
		if !based[build] && q.Builds[build].Base >= 0 {
			based[build] = true
			give(letter(build), k.Pieces[q.Builds[build].Base].Part)
		}
	}
	for _, v := range q.Order {
		base(q.BuildOf[v])
		if j := q.Solution.Constraints.Steps[v].Join; j != nil {
			for _, p := range j.Pieces {
				give(letter(q.BuildOf[v]), k.Pieces[p].Part)
			}
		}
	}
	for _, p := range k.Parts {
		give("Z", p) // jigs and spares, which no step fits
	}
	return n
}

// sides are the letters that tell a part from its mirror image, by their names; empty
// if those do not say.
func sides(p *kits.Part) (own, other string) {
	if p.Pair == nil {
		return "", ""
	}
	for _, w := range [][2]string{{"port", "starboard"}, {"left", "right"}} {
		a, b := strings.ToLower(p.ID+" "+p.Name), strings.ToLower(p.Pair.ID+" "+p.Pair.Name)
		first, second := strings.ToUpper(w[0][:1]), strings.ToUpper(w[1][:1])
		switch {
		case strings.Contains(a, w[0]) && strings.Contains(b, w[1]):
			return first, second
		case strings.Contains(a, w[1]) && strings.Contains(b, w[0]):
			return second, first
		}
	}
	return "", ""
}

// Of is the number of a part.
func (n *Numbers) Of(p *kits.Part) string { return n.byPart[p] }

// Piece is the number of a piece: that of its part.
func (n *Numbers) Piece(piece int) string { return n.byPart[n.kit.Pieces[piece].Part] }
