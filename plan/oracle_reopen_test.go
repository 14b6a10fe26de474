package plan_test

import "slices"

// reopens tells whether some set of joins can be undone in some order, the step be done
// then, and all of them be made again in some order. All sets and orders are tried.
func (o *oracle) reopens(step int, done stepSet) bool {
	var open []int
	for s := range o.joins {
		if done.has(s) && o.opensAgain(s) {
			open = append(open, s)
		}
	}
	sets := 1 << len(open)
	off, back := make([]bool, sets), make([]bool, sets)
	off[0], back[0] = true, true
	for set := 1; set < sets; set++ {
		gone := stepSet(0)
		for i, s := range open {
			if set>>i&1 == 1 {
				gone |= 1 << s
			}
		}
		for i, s := range open {
			rest := set &^ (1 << i)
			if rest == set {
				continue
			}
			// s is the last to be undone, and the first to be made again
			off[set] = off[set] || off[rest] && o.comesApart(s, done&^gone) && o.unitPasses(s, done&^gone)
			back[set] = back[set] || back[rest] && o.unitPasses(s, (done|1<<step)&^gone)
		}
		if off[set] && back[set] && o.holdsStill(step, done, done&^gone) && o.passes(step, done&^gone) {
			return true
		}
	}
	return false
}

// comesApart tells whether nothing that is on holds both sides of a join that is undone.
func (o *oracle) comesApart(join int, on stepSet) bool {
	for s := range o.steps {
		if on.has(s) && !o.holdsStill(s, on|1<<join, on) {
			return false
		}
	}
	return true
}

// holdsStill tells whether what a step keeps together, once it is in one group, still is
// when fewer joins are on. The ends of a wire have slack.
func (o *oracle) holdsStill(step int, with, without stepSet) bool {
	var across []int
	switch w := step - len(o.joins); {
	case w < 0 && o.joins[step].to != nil && !(o.opensAgain(step) && o.lightly(step)):
		across = o.joins[step].to
	case w >= 0 && w < len(o.wires):
		across = o.wires[w].through
	}
	return !slices.ContainsFunc(across, func(p int) bool {
		return o.inOneGroup(with, across[0], p) && !o.inOneGroup(without, across[0], p)
	})
}

// lightly tells whether a join holds by a magnet or by lying there.
func (o *oracle) lightly(join int) bool {
	return slices.Contains([]string{"magnet", "loose", "catch", "dead-catch"}, o.joins[join].with)
}

// unitPasses tells whether what a join that is off fixes passes between its seat and the
// outside, with all that is joined to it.
func (o *oracle) unitPasses(join int, on stepSet) bool {
	j := o.joins[join]
	if !o.travels(join, on) {
		return false
	}
	if j.to == nil {
		return o.sidePasses(j.pieces[1], j.pieces[0], on) || o.sidePasses(j.pieces[0], j.pieces[1], on)
	}
	return !slices.ContainsFunc(j.pieces, func(p int) bool { return !o.sidePasses(p, j.to[0], on) })
}

func (o *oracle) sidePasses(piece, seat int, on stepSet) bool {
	for q := range o.owner {
		if !o.inOneGroup(on, piece, q) {
			continue
		}
		size := o.parts[o.owner[q]].size
		if f := o.fitting(q); f >= 0 && o.joins[f].size != nil {
			size = o.joins[f].size
		}
		for space := range o.within[q] {
			e := oracleEntry{piece: q, seats: []int{seat}}
			for _, c := range o.spaces[space].shut {
				if c.by == "" {
					e.doors = append(e.doors, oracleDoor{-1, o.passing(size, c)})
				}
				for _, closer := range o.piecesOf(c.by) {
					e.doors = append(e.doors, oracleDoor{closer, o.passing(size, c)})
				}
			}
			if !o.getsIn(e, on) {
				return false
			}
		}
	}
	return true
}
