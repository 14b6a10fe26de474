package lights

import (
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// unfed reports the lamps of a branch that no wire leads to: a wire that was forgotten, or
// a branch that names the wrong ones. A kit that states no wires at all says nothing of
// them.
func (c *Circuit) unfed(b *Branch) []plan.Finding {
	if len(c.Kit.Wires) == 0 {
		return nil
	}
	wires := b.Of.Wires
	if len(wires) == 0 {
		wires = c.Kit.Wires
	}
	var list []plan.Finding
	for _, lamp := range b.Of.Lamps {
		if slices.ContainsFunc(wires, func(w *kits.Wire) bool { return c.feeds(w, lamp) }) || c.besideFed(b, wires, lamp) {
			continue
		}
		id := c.Kit.Pieces[lamp].ID
		f := c.finding(plan.Caution, []int{lamp}, b.Of.Pos, "no wire leads to %s", id).
			Suggest("add its wire under wires, and name it in the branch")
		if len(b.Of.Wires) > 0 {
			f = c.finding(plan.Caution, []int{lamp}, b.Of.Pos, "none of the wires of its branch leads to %s", id).
				Suggest("name the wires that lead to it")
			for _, w := range b.Of.Wires {
				f = f.Since(w.ID+" leads from "+c.Kit.Pieces[w.From].ID+" to "+c.Kit.Pieces[w.To].ID, w.Pos)
			}
		}
		list = append(list, f)
	}
	return list
}

// feeds reports whether a wire ends at a lamp, at what the lamp is fitted to, or at what is
// fitted to the lamp.
func (c *Circuit) feeds(w *kits.Wire, lamp int) bool {
	for _, end := range []int{w.From, w.To} {
		if end == lamp || c.sitsOn(lamp, end) || c.sitsOn(end, lamp) {
			return true
		}
	}
	return false
}

func (c *Circuit) sitsOn(piece, other int) bool {
	j := c.Kit.Fitted(piece)
	return j != nil && slices.Contains(j.Onto, other)
}

// besideFed reports whether another lamp of the branch is fed: lamps in series hand the
// current on.
func (c *Circuit) besideFed(b *Branch, wires []*kits.Wire, lamp int) bool {
	return slices.ContainsFunc(b.Of.Lamps, func(other int) bool {
		return other != lamp && slices.ContainsFunc(wires, func(w *kits.Wire) bool { return c.feeds(w, other) })
	})
}
