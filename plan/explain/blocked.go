package explain

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// blockedFindings reports the pieces that can travel to their seats in no direction
// at all, or not in the one that the kit states, in any order.
func (r *explainer) blockedFindings() []plan.Finding {
	var list []plan.Finding
	for i := range r.Access {
		t := &r.Access[i]
		if t.Space != nil || len(t.Routes) > 0 {
			continue
		}
		if t.Unseen() {
			list = append(list, r.unseenFinding(t))
			continue
		}
		if by := r.enclosedBy(t); by >= 0 {
			list = append(list, r.enclosedFinding(t, by))
			continue
		}
		j := r.Steps[t.Step].Join
		f := plan.Finding{Kind: plan.Blocked, Grade: plan.Fault, Piece: r.PieceName(t.Piece), Step: r.Name(t.Step), Steps: []int{t.Step}, Pos: j.Pos}
		if t.Said {
			f.Text = fmt.Sprintf("%s cannot travel toward %s into its seat: what it goes onto is in its way", f.Piece, english.Direction(*r.Change.TowardOf(j)))
		} else {
			f.Text = fmt.Sprintf("%s cannot travel straight into its seat in any of %d directions: what it goes onto is in its way", f.Piece, len(t.Barred))
		}
		for _, b := range t.Barred[:min(len(t.Barred), 6)] {
			f.Because = append(f.Because, plan.ReasonAt(r.bars(b), j.Pos, r.PieceName(b.Mover), r.PieceName(b.Other)).Blames(r.PieceName(b.Other)))
		}
		before, barred := r.Outcome().Stuck, r.barred()
		f.Repairs = r.try(r.travelProposals(t), func(c plan.Change) bool {
			after := r.with(c)
			now := after.barred()
			return len(after.Groups()) <= len(r.Groups()) && !now[[2]int{t.Step, t.Piece}] && noMore(now, barred) &&
				len(after.Outcome().Stuck) <= len(before)
		})
		list = append(list, f)
	}
	return list
}

// enclosedBy is the one piece that bars a mover in every direction, and in every way of
// several legs that was searched for; -1 if there is none.
func (r *explainer) enclosedBy(t *plan.Access) int {
	if t.Said || len(t.Barred) < len(r.Geometry.Directions) || !r.Geometry.Searched[t.Piece] {
		return -1
	}
	by := t.Barred[0].Other
	if slices.ContainsFunc(t.Barred, func(b plan.Barred) bool { return b.Other != by }) {
		return -1
	}
	return by
}

// enclosedFinding reports a piece inside one solid of another, which no order and no
// direction gets it into.
func (r *explainer) enclosedFinding(t *plan.Access, by int) plan.Finding {
	inner, outer := r.PieceName(t.Piece), r.PieceName(by)
	j := r.Steps[t.Step].Join
	f := plan.NewFinding(plan.Blocked, plan.Fault, fmt.Sprintf("%s encloses %s: no way out of it was found in %d directions, nor in several legs", outer, inner, len(t.Barred))).
		About(inner).At(r.Name(t.Step), t.Step).Placed(j.Pos).Suggest(fmt.Sprintf("divide %s, so that it closes around %s", outer, inner))
	f.Because = []plan.Reason{plan.ReasonAt(fmt.Sprintf("%s is %s, all around %s", outer, r.meshOf(by), inner), r.Kit.Pieces[by].Part.Pos, outer).Blames(outer)}
	return f
}

// barred marks the pieces, by step and piece, that no route past meshes is left to.
func (r *explainer) barred() map[[2]int]bool {
	list := map[[2]int]bool{}
	for i := range r.Access {
		if a := &r.Access[i]; len(a.Routes) == 0 && a.Space == nil {
			list[[2]int{a.Step, a.Piece}] = true
		}
	}
	return list
}

// noMore reports whether everything marked now was marked before.
func noMore(now, before map[[2]int]bool) bool {
	for k := range now {
		if !before[k] {
			return false
		}
	}
	return true
}

// unseenFinding reports that nothing is proven of a direction that was not
// measured.
func (r *explainer) unseenFinding(t *plan.Access) plan.Finding {
	j := r.Steps[t.Step].Join
	f := plan.Finding{Kind: plan.Unchecked, Grade: plan.Note, Piece: r.PieceName(t.Piece), Step: r.Name(t.Step), Steps: []int{t.Step}, Pos: j.Pos}
	f.Text = f.Piece + " travels in a direction that was not measured, so its travel is not proven"
	return f
}

// bars words a direction that is always blocked.
func (r *explainer) bars(b plan.Barred) string {
	return fmt.Sprintf("toward %s %s is in the way of %s%s", english.Direction(b.Toward), r.PieceName(b.Other), r.PieceName(b.Mover), r.hit(b.Mover, b.Other, b.Leaving))
}

// hit says how far a piece gets from its seat before it meets another.
func (r *explainer) hit(mover, other, leaving int) string {
	if leaving < 0 || r.Geometry.Hit == nil {
		return ""
	}
	mm := r.Geometry.Hit(mover, other, leaving)
	if math.IsInf(mm, 1) {
		return ""
	}
	return fmt.Sprintf(", %s from its seat", r.MM(geom.Round(mm, 1)))
}

// hindered words a piece that blocks a travel.
func (r *explainer) hindered(st *plan.Statement) string {
	t := &r.Access[st.Access]
	route := &t.Routes[st.Route]
	h := route.Blockers[st.Blocker]
	if t.Learned {
		return st.Text + r.inBefore(h.Joins)
	}
	way := "toward " + english.Direction(route.Toward())
	if len(route.Legs) > 1 {
		way = fmt.Sprintf("in %d legs, the last toward %s", len(route.Legs), english.Direction(route.Toward()))
	}
	text := fmt.Sprintf("%s travels %s into its seat, and %s is in its way%s", r.PieceName(t.Piece), way, r.PieceName(h.Piece), r.hit(h.Mover, h.Piece, route.Leaving))
	if h.Mover != t.Piece {
		text = fmt.Sprintf("%s travels %s into its seat, and %s is in the way of %s, which goes with it%s", r.PieceName(t.Piece), way, r.PieceName(h.Piece), r.PieceName(h.Mover), r.hit(h.Mover, h.Piece, route.Leaving))
	}
	return text + r.inBefore(h.Joins)
}

// inBefore says before which joins something must be in.
func (r *explainer) inBefore(joins []int32) string {
	var shut []string
	for _, v := range joins {
		shut = append(shut, r.Name(int(v)))
	}
	return inBefore(shut)
}

func inBefore(shut []string) string {
	switch len(shut) {
	case 0:
		return ""
	case 1:
		return ", so it must be in before " + shut[0]
	}
	return ", so it must be in before these are all done: " + strings.Join(shut, ", ")
}

// blockedRoot words a root in which pieces block one another.
func (s *outcome) blockedRoot(f plan.Finding, travels []int) plan.Finding {
	r := s.explainer
	first := &r.Access[travels[0]]
	f.Kind, f.Step, f.Steps, f.Pos = plan.Blocked, r.Name(first.Step), []int{first.Step}, r.Steps[first.Step].Pos()
	var names []string
	for _, i := range travels {
		if name := r.PieceName(r.Access[i].Piece); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	if f.Piece = names[0]; len(names) > 1 {
		f.Pieces = names
	}
	way := ""
	if first.Said {
		way = " toward " + english.Direction(r.Route(travels[0]).Toward())
	}
	f.Text = fmt.Sprintf("%s cannot travel%s to its seat in any order: when its turn comes, something is in the way", names[0], way)
	if len(names) > 1 {
		f.Text = fmt.Sprintf("%s cannot travel to their seats in any order: when the turn of one comes, something is in the way", english.And(names, 8))
	}
	return f
}

// maxTowards bounds the directions proposed for one piece.
const maxTowards = 8

// travelProposals proposes another direction of travel, or another seat.
func (r *explainer) travelProposals(t *plan.Access) []proposal {
	var list []proposal
	j := r.Steps[t.Step].Join
	if t.Said {
		for _, d := range r.Geometry.Directions {
			in := d.Opposite()
			if in.SameDirection(*r.Change.TowardOf(j)) || len(list) == maxTowards {
				continue
			}
			c := r.Change
			c.Toward, c.Along = j, in
			list = append(list, proposal{c, sayLess, fmt.Sprintf("let %s travel toward %s, at %s", r.PieceName(t.Piece), english.Direction(in), j.Pos)})
		}
	}
	if !j.IsClose() {
		list = append(list, r.seatProposals(j)...)
		list = append(list, r.refitsOf(j)...)
	}
	return list
}
