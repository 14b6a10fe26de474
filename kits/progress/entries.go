package progress

import "dryfit/kits"

// pieces makes the entries say what is wanted of each piece, and changes as few as it
// can: entries that say too much say less, those that are there say more, and only then
// new ones are made, one for a whole part where its copies are alike.
func (e *editor) pieces(f *File, n *names, want []States) {
	covers := f.covered(n, new(kits.Faults))
	now := make([]States, len(f.Pieces)) // what each entry is to say
	said := make([]States, len(want))
	for i, list := range covers {
		now[i] = f.Pieces[i].States
		for _, p := range list {
			now[i] &= want[p]
		}
		for _, p := range list {
			said[p] |= now[i]
		}
	}
	made := map[string]States{}
	var names []string
	for _, part := range n.kit.Parts {
		copies := n.kit.Copies(part)
		if !lacks(copies, said, want) {
			continue
		}
		whole, single := -1, map[int]int{}
		for i, list := range covers {
			if len(list) == len(copies) && len(list) > 0 && list[0] == copies[0] {
				whole = i
			} else if len(list) == 1 && n.kit.Pieces[list[0]].Part == part {
				single[list[0]] = i
			}
		}
		alike := same(copies, want)
		switch {
		case alike && whole >= 0:
			now[whole] = want[copies[0]]
			continue
		case alike && len(single) == 0:
			names = append(names, part.ID)
			made[part.ID] = want[copies[0]]
			continue
		}
		for _, p := range copies {
			i, there := single[p]
			switch id := n.kit.Pieces[p].ID; {
			case want[p]&^said[p] == 0:
			case there:
				now[i] = want[p]
			default:
				names = append(names, id)
				made[id] = want[p]
			}
		}
	}
	for i, entry := range f.Pieces {
		if now[i] != entry.States {
			if len(covers[i]) > 0 {
				e.set(entry.Name, now[i])
			}
		}
	}
	for _, name := range names {
		e.set(name, made[name])
	}
}

// lacks reports whether the entries say too little of a piece.
func lacks(pieces []int, said, want []States) bool {
	for _, p := range pieces {
		if want[p]&^said[p] != 0 {
			return true
		}
	}
	return false
}

// same reports whether the same is wanted of all pieces.
func same(pieces []int, want []States) bool {
	for _, p := range pieces {
		if want[p] != want[pieces[0]] {
			return false
		}
	}
	return true
}
