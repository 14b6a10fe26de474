package kits

import (
	"fmt"
	"slices"
	"strings"
)

func (v *resolver) joins() {
	k := v.kit
	k.fitOf = make([]*Join, len(k.Pieces))
	for _, j := range k.Joins {
		j.Fixing, j.Opens = v.fixing(j)
		if j.IsClose() {
			for _, r := range j.close {
				j.Pieces = append(j.Pieces, v.onePiece("close", r))
			}
			continue
		}
		if j.fit == nil {
			continue // already reported
		}
		j.Pieces = v.pieces("fit", *j.fit)
		j.Onto = v.onto(j)
		for _, p := range j.Pieces {
			if first := k.fitOf[p]; first != nil {
				mend := "name everything it is fitted to in one join, to: [...]"
				if pc := k.Pieces[p]; pc.Part.Quantity > 1 && (j.fit.Name == pc.Part.ID || first.fit.Name == pc.Part.ID) {
					mend = fmt.Sprintf("%s means all its copies, name one such as %s", pc.Part.ID, pc.ID)
				}
				v.fault(j.fit.Pos, "fit: %s is fitted a second time, first at %s; %s", k.Pieces[p].ID, first.Pos, mend)
				continue
			}
			k.fitOf[p] = j
		}
	}
}

// onto resolves what a piece is fitted to: each piece once, and not itself.
func (v *resolver) onto(j *Join) []int {
	var list []int
	moving, seen := map[int]bool{}, map[int]bool{}
	for _, p := range j.Pieces {
		moving[p] = true
	}
	for _, r := range j.to {
		for _, p := range v.pieces("to", r) {
			switch {
			case moving[p]:
				v.fault(r.Pos, "to: %s is joined to itself", v.kit.Pieces[p].ID)
			case seen[p]:
				v.fault(r.Pos, "to: %s is given twice; remove one", v.kit.Pieces[p].ID)
			default:
				seen[p] = true
				list = append(list, p)
			}
		}
	}
	return list
}

func (v *resolver) fixing(j *Join) (*Fixing, bool) {
	opens := false
	var f *Fixing
	if j.with != nil {
		if f = v.kit.fixingOf[j.with.Name]; f == nil {
			v.fault(j.with.Pos, "with: no fixing is called %q%s; known are %s", j.with.Name, v.Suggest(j.with.Name, v.known.fixings), strings.Join(v.known.fixings, ", "))
		} else {
			opens = f.Opens
		}
	}
	return f, given(j.opens, opens)
}

// rings reports each join between pieces that other joins already tie together.
func (k *Kit) rings(faults *Faults) {
	t := newTies(len(k.Pieces))
	for _, j := range k.Joins {
		tie := func(a, b int) {
			if chain := t.join(a, b); chain != nil {
				faults.Add(j.Pos, "%s", k.ring(a, b, chain))
			}
		}
		switch {
		case j.IsClose() && len(j.Pieces) == 2 && j.Pieces[0] >= 0 && j.Pieces[1] >= 0:
			tie(j.Pieces[0], j.Pieces[1])
		case !j.IsClose() && len(j.Onto) > 0:
			for _, p := range j.Pieces {
				if k.fitOf[p] == j {
					tie(p, j.Onto[0])
				}
			}
		}
	}
}

// ring words a ring of joins from the existing chain of pieces from a to b.
func (k *Kit) ring(a, b int, chain []int) string {
	if a == b {
		return fmt.Sprintf("%s is joined to itself", k.Pieces[a].ID)
	}
	names := make([]string, len(chain), len(chain)+1)
	for i, p := range chain {
		names[i] = k.Pieces[p].ID
	}
	if len(names) > 12 {
		names = slices.Concat(names[:6], []string{"..."}, names[len(names)-5:])
	}
	names = append(names, k.Pieces[a].ID)
	return fmt.Sprintf("closes a ring: %s; other joins already tie %s and %s together, so make it a task, or fit the last of them with to: [...]",
		strings.Join(names, " - "), k.Pieces[a].ID, k.Pieces[b].ID)
}
