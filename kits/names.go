package kits

import "slices"

// IDs lists the ids of pieces.
func (k *Kit) IDs(pieces []int) []string {
	ids := make([]string, len(pieces))
	for i, p := range pieces {
		ids[i] = k.Pieces[p].ID
	}
	return ids
}

// Names lists how a file refers to pieces: by the id of the part where all its
// copies follow one another, otherwise by the id of each piece.
func (k *Kit) Names(pieces []int) []string {
	var names []string
	for len(pieces) > 0 {
		part := k.Pieces[pieces[0]].Part
		n := 1
		if all := k.Copies(part); len(all) <= len(pieces) && slices.Equal(all, pieces[:len(all)]) {
			n = len(all)
			names = append(names, part.ID)
		} else {
			names = append(names, k.Pieces[pieces[0]].ID)
		}
		pieces = pieces[n:]
	}
	return names
}
