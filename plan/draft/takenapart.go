package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan/blocking"
)

// apart joins what the disassembly took apart, in the reverse order. It is for models
// of which no better order was found, such as those with a group that is locked.
type apart struct {
	*draft
	base []int // of the group a piece is in: the piece that no join fits
}

// takenApart goes through the moves from the last to the first: each puts two groups
// together.
func (d *draft) takenApart() {
	a := &apart{d, make([]int, len(d.Pieces))}
	for i := range a.base {
		a.base[i] = i
	}
	for _, l := range d.disassembly.Locked {
		a.joinLocked(l)
	}
	for _, v := range slices.Backward(d.disassembly.Moves) {
		a.joinMove(v)
	}
}

// touchesNothing is the note of a join whose pieces do not touch.
const touchesNothing = "touches nothing it is fitted to"

// joinMove joins what a move takes apart.
func (d *apart) joinMove(v blocking.Move) {
	p, base := d.base[v.Pieces[0]], d.base[v.Rest[0]]
	j := join{p: p, bench: len(v.Pieces) > 1, legs: geom.Reverse(v.Legs), undercut: v.Undercut}
	if len(j.legs) == 1 {
		j.toward = &j.legs[0].Toward
	}
	j.sayWay()
	_, onto, contact := d.bestPair([]int{p}, v.Rest)
	a, b, area := d.bestPair(v.Pieces, v.Rest)
	switch {
	case contact > 0:
		j.q = onto
	case area > 0 && len(v.Pieces) > 1:
		j.p, j.q, j.close = a, b, true
	default:
		j.q, j.apart = d.nearest(p, v.Rest), true
		j.note = strings.TrimPrefix(j.note+"; "+touchesNothing, "; ")
	}
	d.joins = append(d.joins, j)
	for _, x := range v.Pieces {
		d.base[x] = base
	}
}

func legs(way []geom.Leg) string {
	var list []string
	for _, l := range way {
		text := english.Direction(l.Toward)
		if !l.Endless() {
			text = fmt.Sprintf("%.1f mm %s", l.Distance, text)
		}
		list = append(list, text)
	}
	return strings.Join(list, ", then ")
}

// joinLocked joins a group that could not be taken apart, each piece to one it touches.
func (d *apart) joinLocked(l blocking.Lock) {
	root := l.Pieces[0]
	for _, p := range l.Pieces {
		if d.Pieces[p].Volume > d.Pieces[root].Volume {
			root = p
		}
	}
	in := []int{root}
	rest := slices.DeleteFunc(slices.Clone(l.Pieces), func(p int) bool { return p == root })
	for len(rest) > 0 {
		p, q, area := d.bestPair(rest, in)
		note := "locked"
		if area == 0 {
			q = d.nearest(p, in)
			note = "locked; " + touchesNothing
		}
		d.joins = append(d.joins, join{p: p, q: q, note: note})
		in = append(in, p)
		rest = slices.DeleteFunc(rest, func(x int) bool { return x == p })
	}
	for _, p := range l.Pieces {
		d.base[p] = root
	}
}

// bestPair is the pair, one of some pieces and one of some others, with the
// largest contact, and its area in mm2; the first of each, and 0, if none touch.
func (d *draft) bestPair(pieces, others []int) (p, q int, area float64) {
	p, q = pieces[0], others[0]
	for _, a := range pieces {
		for _, b := range others {
			if c := d.contact(a, b); c > area {
				p, q, area = a, b, c
			}
		}
	}
	return p, q, area
}

// nearest is the piece of some others whose box is nearest to a piece's.
func (d *draft) nearest(p int, others []int) int {
	best, least := others[0], math.Inf(1)
	for _, o := range others {
		a, b := d.survey.Pieces[p], d.survey.Pieces[o]
		sum := 0.0
		for k := range 3 {
			gap := max(a.Min[k]-b.Max[k], b.Min[k]-a.Max[k], 0)
			sum += gap * gap
		}
		if sum < least {
			best, least = o, sum
		}
	}
	return best
}

// contact is the area in which two pieces touch, mm2. Pieces that only overlap
// count as barely touching.
func (d *draft) contact(a, b int) float64 {
	if n := d.beside(a, b); n != nil {
		return n.area
	}
	return 0
}
