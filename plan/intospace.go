package plan

import (
	"fmt"
	"slices"

	"dryfit/kits"
)

// Bounds on the total number of ways into spaces, and of the joins that shut
// them. A kit of a thousand pieces has about a thousand ways and ten thousand
// joins.
const (
	maxWays       = 1_000_000
	maxConditions = 10_000_000
)

// ErrTooLarge is returned for kits whose spaces and joins combine into more
// conditions than can be checked.
var ErrTooLarge = fmt.Errorf("the kit is too large: its spaces and joins lead to more than %d ways in or %d conditions; split the kit", maxWays, maxConditions)

// tooLarge reports whether a bound was exceeded; the constraints are then
// incomplete.
func (r *Constraints) tooLarge() bool { return r.ways > maxWays || r.Conditions > maxConditions }

// intoSpace derives the accesses of all pieces held in spaces and of all wires.
func (r *Constraints) intoSpace() {
	r.bridge = r.bridges()
	bridged := r.bridged()
	around := map[int][]*kits.Space{}
	for _, s := range r.Kit.Spaces {
		for _, h := range s.Holds {
			if _, known := around[h.Piece]; !known {
				around[h.Piece] = r.Kit.Around(h.Piece)
			}
		}
	}
	seen := map[levelOf]bool{}
	for _, s := range r.Kit.Spaces {
		for _, h := range s.Holds {
			if r.tooLarge() {
				return
			}
			r.pieceIntoSpaces(s, h, seen, around, bridged)
		}
	}
	for _, w := range r.Kit.Wires {
		if r.tooLarge() {
			return
		}
		seen := map[*kits.Space]bool{}
		for _, s := range w.RunsIn {
			for at := s; at != nil && !seen[at]; at = at.Inside {
				seen[at] = true
				r.wireIntoSpace(w, at, around, bridged)
			}
		}
	}
}

// levelOf gives a piece in one of the spaces around it.
type levelOf struct {
	piece int
	space *kits.Space
}

// pieceIntoSpaces adds one access for the space a piece is held in and one for each
// space around that.
func (r *Constraints) pieceIntoSpaces(s *kits.Space, h kits.Held, seen map[levelOf]bool, around map[int][]*kits.Space, bridged []bool) {
	j := r.Kit.Fitted(h.Piece)
	if j == nil || len(r.Change.OntoOf(j)) == 0 {
		return // the base of a group is in place before the space exists
	}
	size := r.SizeOf(h.Piece)
	if j.Size != nil {
		size = j.Size
	}
	for at := s; at != nil && !seen[levelOf{h.Piece, at}]; at = at.Inside {
		seen[levelOf{h.Piece, at}] = true
		a := Access{Step: r.number.Join[j], Piece: h.Piece, Space: at}
		for _, c := range r.Change.closersOf(at) {
			a.Routes = append(a.Routes, r.opening(c, size, r.base(j), &a, around[h.Piece], around, bridged))
		}
		r.addIntoSpace(a, h.Pos, r.PieceName(h.Piece)+" is held in "+at.ID)
	}
}

func (r *Constraints) wireIntoSpace(w *kits.Wire, s *kits.Space, around map[int][]*kits.Space, bridged []bool) {
	var size *kits.Size
	if w.Across != nil {
		size = &kits.Size{XYZ: [3]float64{*w.Across, *w.Across, *w.Across}}
	}
	var within []*kits.Space
	for _, run := range w.RunsIn {
		for at := run; at != nil; at = at.Inside {
			within = append(within, at)
		}
	}
	a := Access{Step: r.number.wire[w], Piece: -1, Wire: w, Space: s}
	along := carriers(w, s, func(p int) []*kits.Space { return around[p] })
	for _, c := range r.Change.closersOf(s) {
		// All that carries it is in one group by then, so one of them stands for all.
		carrier := along[0]
		if i := slices.IndexFunc(along, func(p int) bool { return c.Piece >= 0 && r.tree.tied(c.Piece, p) }); i >= 0 {
			carrier = along[i]
		}
		a.Routes = append(a.Routes, r.opening(c, size, carrier, &a, within, around, bridged))
	}
	if r.Change.Run == w {
		a.Routes = append(a.Routes, Route{Closer: kits.Closer{Piece: -1}, Pass: Straight})
	}
	r.addIntoSpace(a, w.Pos, w.ID+" runs in "+s.ID)
}

// carriers lists what carries a wire inside a space: the ends and the pieces it is
// threaded through that are in it. If the kit puts none there, it is what it is threaded
// through and its ends, but for those that close the space themselves.
func carriers(w *kits.Wire, s *kits.Space, around func(piece int) []*kits.Space) []int {
	along := slices.Concat(w.Through, []int{w.From, w.To})
	var inside, beside []int
	for _, p := range along {
		if slices.Contains(around(p), s) {
			inside = append(inside, p)
		}
		if !slices.ContainsFunc(s.ClosedBy, func(c kits.Closer) bool { return c.Piece == p }) {
			beside = append(beside, p)
		}
	}
	switch {
	case inside != nil:
		return inside
	case beside != nil:
		return beside
	}
	return along
}

// opening is the route through one opening of an access's space, for something of
// the given size that goes to base. The piece that covers the opening is its
// blocker; an opening that is never covered has none.
func (r *Constraints) opening(c kits.Closer, size *kits.Size, base int, a *Access, within []*kits.Space, around map[int][]*kits.Space, bridged []bool) Route {
	r.ways++
	t := Route{Closer: c, Pass: pass(size, r.Change.OpeningOf(c.Opening), r.Kit.Clearance)}
	if c.Piece < 0 || !r.tree.tied(c.Piece, base) {
		return t
	}
	b := Blocker{Mover: a.Piece, Piece: c.Piece}
	if t.Pass != Cannot {
		b.Joins = r.tree.path(c.Piece, base)
		r.Conditions += len(b.Joins)
	}
	rides := slices.Contains(b.Joins, int32(a.Step)) // on what the step moves
	if rides {
		b.Joins = slices.DeleteFunc(slices.Clone(b.Joins), func(v int32) bool { return int(v) == a.Step })
		if len(b.Joins) == 0 {
			return t
		}
	}
	for _, v := range b.Joins {
		j := r.Steps[v].Join
		if !r.Change.IsOpen(j) {
			continue
		}
		b.opens = true
		if !bridged[v] && r.inReach(j, a.Space, within, around) {
			b.Reopens = append(b.Reopens, v)
		}
	}
	if rides {
		t.rider = &b
		return t
	}
	t.Blockers = []Blocker{b}
	return t
}

// inReach reports whether a join can be undone to open a space once the other
// given spaces are open: what it joins is neither in that space itself nor in one
// that stays shut.
func (r *Constraints) inReach(j *kits.Join, space *kits.Space, within []*kits.Space, around map[int][]*kits.Space) bool {
	if j.IsClose() {
		return true
	}
	for _, p := range j.Pieces {
		for _, s := range around[p] {
			if s == space || !slices.Contains(within, s) {
				return false
			}
		}
	}
	return true
}

// bridges lists for each join the joins that span both sides of it, so that it
// cannot be undone before them: fits onto several pieces, which hold until
// undone, and wires through several pieces, which are never taken out again.
func (r *Constraints) bridges() [][]int32 {
	list := make([][]int32, len(r.Steps))
	mark := func(pieces []int, by int32) {
		for i := 1; i < len(pieces) && !r.tooLarge(); i++ {
			if r.tree.tied(pieces[0], pieces[i]) {
				path := r.tree.path(pieces[0], pieces[i])
				r.Conditions += len(path)
				for _, s := range path {
					list[s] = append(list[s], by)
				}
			}
		}
	}
	for _, j := range r.Kit.Joins {
		if !j.IsClose() {
			mark(r.Change.OntoOf(j), int32(r.number.Join[j]))
		}
	}
	for _, w := range r.Kit.Wires {
		mark(w.Through, int32(r.number.wire[w]))
	}
	return list
}

// bridged marks the joins that are spanned by something that cannot be opened.
func (r *Constraints) bridged() []bool {
	spanned := make([]bool, len(r.Steps))
	for v, by := range r.bridge {
		for _, m := range by {
			j := r.Steps[m].Join
			spanned[v] = spanned[v] || j == nil || !r.Change.IsOpen(j)
		}
	}
	return spanned
}

func (r *Constraints) addIntoSpace(a Access, at kits.Pos, text string) {
	a.Statement = r.state(Statement{Text: text, At: at, Kind: OfSpace, Access: len(r.Access)})
	r.addAccess(a)
}

// CloserNames names the piece that closes an opening, if any.
func (r *Constraints) CloserNames(c kits.Closer) []string {
	if c.Piece < 0 {
		return nil
	}
	return []string{r.PieceName(c.Piece)}
}

// OpeningName names an opening by its own name or by the piece that covers it.
func (r *Constraints) OpeningName(c kits.Closer) string {
	switch {
	case c.Name != "":
		return c.Name
	case c.Piece >= 0:
		return r.PieceName(c.Piece)
	}
	return "the opening of " + r.MM(c.Opening.W, c.Opening.H)
}
