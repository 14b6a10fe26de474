package blocking

import (
	"slices"
)

// leftHanging lists the pieces that no longer touch the rest, directly or through
// others, once p is gone. If the group falls apart, the component with the
// largest boxes is the rest.
func (t *disassembler) leftHanging(p int32) []int32 {
	var around []int32
	for _, q := range t.touch[p] {
		if t.in[q] {
			around = append(around, q)
		}
	}
	if len(around) < 2 {
		return nil
	}
	var parts [][]int32
	t.marks++
	t.mark[p] = t.marks
	for _, q := range around {
		if t.mark[q] == t.marks {
			continue
		}
		part, all := t.reach(q, around)
		if all {
			return nil
		}
		parts = append(parts, part)
	}
	rest := 0
	for i := range parts {
		if t.roomOf(parts[i]) > t.roomOf(parts[rest]) {
			rest = i
		}
	}
	var hanging []int32
	for i, part := range parts {
		if i != rest {
			hanging = append(hanging, part...)
		}
	}
	slices.Sort(hanging)
	return hanging
}

// reach marks and lists the pieces of the group that touch q, directly or through
// others that are not marked. It stops, with true, when it has reached all of those
// looked for: mostly that is at once.
func (t *disassembler) reach(q int32, all []int32) ([]int32, bool) {
	t.mark[q] = t.marks
	list := []int32{q}
	missing := 0
	for missing < len(all) && t.mark[all[missing]] == t.marks {
		missing++
	}
	for i := 0; i < len(list); i++ {
		for _, r := range t.touch[list[i]] {
			if !t.in[r] || t.mark[r] == t.marks {
				continue
			}
			t.mark[r] = t.marks
			list = append(list, r)
			for missing < len(all) && t.mark[all[missing]] == t.marks {
				missing++
			}
			if missing == len(all) && list[0] == all[0] {
				return list, true
			}
		}
	}
	return list, false
}

// together reports whether pieces are connected by touching.
func (t *disassembler) together(list []int32) bool {
	in := map[int32]bool{}
	for _, p := range list {
		in[p] = true
	}
	seen := map[int32]bool{list[0]: true}
	queue := []int32{list[0]}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, q := range t.touch[p] {
			if in[q] && !seen[q] {
				seen[q] = true
				queue = append(queue, q)
			}
		}
	}
	return len(seen) == len(list)
}
