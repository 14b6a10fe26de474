package booklet

import (
	"strconv"

	"dryfit/kits"
	"dryfit/plan"
)

// numbers are those that a builder finds on the parts, in the lists and in the
// pictures, alike everywhere: the designer's own where the kit gives them, else the
// letter of the sub-build that a part belongs to and a number counted in it; in the
// main build the number alone. Copies of a part share its number.
type numbers struct {
	kit    *kits.Kit
	byPart map[*kits.Part]string
}

func newNumbers(k *kits.Kit, q *plan.Sequence) *numbers {
	n := &numbers{k, map[*kits.Part]string{}}
	taken := map[string]bool{}
	for _, p := range k.Parts {
		if p.Number != "" {
			n.byPart[p] = p.Number
			taken[p.Number] = true
		}
	}
	count := map[string]int{}
	give := func(letter string, p *kits.Part) {
		if _, has := n.byPart[p]; has {
			return
		}
		for {
			count[letter]++
			if text := letter + strconv.Itoa(count[letter]); !taken[text] {
				n.byPart[p], taken[text] = text, true
				return
			}
		}
	}
	letter := func(build int) string {
		if build == 0 {
			return ""
		}
		return q.Builds[build].Letter
	}
	based := map[int]bool{}
	base := func(build int) {
		if !based[build] && build < len(q.Builds) {
			based[build] = true
			give(letter(build), k.Pieces[q.Builds[build].Base].Part)
		}
	}
	for _, v := range q.Order {
		base(q.BuildOf[v])
		if j := q.Solution.Rules.Steps[v].Join; j != nil {
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

// of is the number of a piece.
func (n *numbers) of(piece int) string { return n.byPart[n.kit.Pieces[piece].Part] }
