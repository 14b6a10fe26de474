package plan

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
)

// blockedFindings reports the pieces that can travel to their seats in no direction
// at all, or not in the one the kit says, whatever the order.
func (r *Constraints) blockedFindings() []Finding {
	var list []Finding
	for i := range r.Access {
		t := &r.Access[i]
		if t.Space != nil || len(t.Routes) > 0 {
			continue
		}
		if t.unseen() {
			list = append(list, r.unseenFinding(t))
			continue
		}
		j := r.Steps[t.Step].Join
		f := Finding{Kind: Blocked, Grade: Fault, Piece: r.pieceName(t.Piece), Step: r.name(t.Step), at: j.Pos}
		if t.Said {
			f.Text = fmt.Sprintf("%s cannot travel toward %s into its seat: what it goes onto is in its way", f.Piece, Axis(*r.change.towardOf(j)))
		} else {
			f.Text = fmt.Sprintf("%s cannot travel straight into its seat in any of %d directions: what it goes onto is in its way", f.Piece, len(t.Barred))
		}
		for _, b := range t.Barred[:min(len(t.Barred), 6)] {
			f.Because = append(f.Because, because(r.bars(b), j.Pos, r.pieceName(b.Mover), r.pieceName(b.Other)))
		}
		before, barred := r.solve().Stuck, r.barred()
		f.Repairs = r.try(r.travelProposals(t), func(c change) bool {
			after := r.again(c)
			now := after.barred()
			return after.tree.comps <= r.tree.comps && !now[[2]int{t.Step, t.Piece}] && noMore(now, barred) &&
				len(after.solve().Stuck) <= len(before)
		})
		list = append(list, f)
	}
	return list
}

// barred marks the pieces, by step and piece, that no route past meshes is left to.
func (r *Constraints) barred() map[[2]int]bool {
	list := map[[2]int]bool{}
	for i := range r.Access {
		if a := &r.Access[i]; len(a.Routes) == 0 && a.Space == nil {
			list[[2]int{a.Step, a.Piece}] = true
		}
	}
	return list
}

// noMore reports whether all that is marked now was marked before.
func noMore(now, before map[[2]int]bool) bool {
	for k := range now {
		if !before[k] {
			return false
		}
	}
	return true
}

// unseen reports whether nothing was looked at along the direction that is said.
func (a *Access) unseen() bool { return len(a.Routes) == 0 && len(a.Barred) == 0 }

// unseenFinding: nothing is proven of a direction that was not looked along.
func (r *Constraints) unseenFinding(t *Access) Finding {
	j := r.Steps[t.Step].Join
	f := Finding{Kind: Unchecked, Grade: Note, Piece: r.pieceName(t.Piece), Step: r.name(t.Step), at: j.Pos}
	f.Text = f.Piece + " travels in a direction that was not looked along, so nothing is proven of it"
	return f
}

// bars words a direction that something always bars.
func (r *Constraints) bars(b Barred) string {
	return fmt.Sprintf("toward %s %s is in the way of %s%s", Axis(b.Toward), r.pieceName(b.Other), r.pieceName(b.Mover), r.hit(b.Mover, b.Other, b.leaving))
}

// hit says how far a piece leaves its seat before it meets another.
func (r *Constraints) hit(mover, other, leaving int) string {
	if leaving < 0 || r.Geometry.Hit == nil {
		return ""
	}
	mm := r.Geometry.Hit(mover, other, leaving)
	if math.IsInf(mm, 1) {
		return ""
	}
	return fmt.Sprintf(", %s from its seat", r.mm(math.Round(mm*10)/10))
}

// hindered words a piece in the way of a travel.
func (r *Constraints) hindered(st *Statement) string {
	t := &r.Access[st.access]
	route := &t.Routes[st.route]
	h := route.Blockers[st.blocker]
	way := "toward " + Axis(route.Toward())
	if len(route.Legs) > 1 {
		way = fmt.Sprintf("in %d legs, the last toward %s", len(route.Legs), Axis(route.Toward()))
	}
	text := fmt.Sprintf("%s travels %s into its seat, and %s is in its way%s", r.pieceName(t.Piece), way, r.pieceName(h.Piece), r.hit(h.Mover, h.Piece, route.leaving))
	if h.Mover != t.Piece {
		text = fmt.Sprintf("%s travels %s into its seat, and %s is in the way of %s, which goes with it%s", r.pieceName(t.Piece), way, r.pieceName(h.Piece), r.pieceName(h.Mover), r.hit(h.Mover, h.Piece, route.leaving))
	}
	var shut []string
	for _, v := range h.Joins {
		shut = append(shut, r.name(int(v)))
	}
	if len(shut) == 1 {
		return text + ", so it must be in before " + shut[0]
	}
	return text + ", so it must be in before these are all done: " + strings.Join(shut, ", ")
}

// blockedRoot words a root in which pieces are in the way of others.
func (s *Solution) blockedRoot(f Finding, travels []int) Finding {
	r := s.Constraints
	first := &r.Access[travels[0]]
	f.Kind, f.Step, f.at = Blocked, r.name(first.Step), r.Steps[first.Step].pos()
	var names []string
	for _, i := range travels {
		if name := r.pieceName(r.Access[i].Piece); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if f.Piece = names[0]; len(names) > 1 {
		f.Pieces = names
	}
	way := ""
	if first.Said {
		way = " toward " + Axis(r.Route(travels[0]).Toward())
	}
	f.Text = fmt.Sprintf("%s cannot travel%s to its seat in any order: when its turn comes, something is in the way", names[0], way)
	if len(names) > 1 {
		f.Text = fmt.Sprintf("%s cannot travel to their seats in any order: when the turn of one comes, something is in the way", and(names))
	}
	return f
}

// maxTowards bounds the directions proposed for one piece.
const maxTowards = 8

// travelProposals: another direction of travel, or another seat.
func (r *Constraints) travelProposals(t *Access) []proposal {
	var list []proposal
	j := r.Steps[t.Step].Join
	if t.Said {
		for _, d := range r.Geometry.Directions {
			in := d.Opposite()
			if in.SameDirection(*r.change.towardOf(j)) || len(list) == maxTowards {
				continue
			}
			c := r.change
			c.toward, c.along = j, in
			list = append(list, proposal{c, sayLess, fmt.Sprintf("let %s travel toward %s, at %s", r.pieceName(t.Piece), Axis(in), j.Pos)})
		}
	}
	if !j.IsClose() {
		list = append(list, r.seatProposals(j)...)
		list = append(list, r.refitsOf(j)...)
	}
	return list
}

// Axis words a direction: +x, -y, or its three numbers.
func Axis(d geom.Vec) string {
	u := d.Unit()
	for k, name := range []string{"x", "y", "z"} {
		switch {
		case u[k] > 1-1e-9:
			return "+" + name
		case u[k] < -1+1e-9:
			return "-" + name
		}
	}
	least := math.Inf(1)
	for _, x := range u {
		if math.Abs(x) > 1e-9 {
			least = min(least, math.Abs(x))
		}
	}
	var words []string
	for _, x := range u {
		n := x / least
		if math.Abs(n-math.Round(n)) > 1e-6 || math.Abs(n) > 9 {
			return fmt.Sprintf("[%s, %s, %s]", number(u[0]), number(u[1]), number(u[2]))
		}
		words = append(words, number(math.Round(n)))
	}
	return "[" + strings.Join(words, ", ") + "]"
}

func number(x float64) string { return english.Number(x, 4) }
