package kits

import (
	"cmp"
	"slices"
)

// IDs lists the ids of pieces.
func (k *Kit) IDs(pieces []int) []string {
	ids := make([]string, len(pieces))
	for i, p := range pieces {
		ids[i] = k.Pieces[p].ID
	}
	return ids
}

// Closing is what a closing is called that has no name of its own.
func (k *Kit) Closing(j *Join) string {
	return "closing " + k.Pieces[j.Pieces[0]].ID + " on " + k.Pieces[j.Pieces[1]].ID
}

// Name is what a task is called: its own name or, without one, its text.
func (t *Task) Name() string { return cmp.Or(t.Step, t.Do) }

// PartIDs lists the ids of parts.
func PartIDs(parts []*Part) []string {
	var ids []string
	for _, p := range parts {
		ids = append(ids, p.ID)
	}
	return ids
}

// Runs cuts a list of pieces into runs of copies of one part.
func (k *Kit) Runs(pieces []int) [][]int {
	var runs [][]int
	for i, p := range pieces {
		if i == 0 || k.Pieces[p].Part != k.Pieces[pieces[i-1]].Part {
			runs = append(runs, nil)
		}
		last := len(runs) - 1
		runs[last] = append(runs[last], p)
	}
	return runs
}

// Names lists how a file refers to pieces: by the id of the part where all its
// copies follow one another, otherwise by the id of each piece.
func (k *Kit) Names(pieces []int) []string {
	var names []string
	for _, run := range k.Runs(pieces) {
		if part := k.Pieces[run[0]].Part; slices.Equal(run, k.Copies(part)) {
			names = append(names, part.ID)
		} else {
			names = append(names, k.IDs(run)...)
		}
	}
	return names
}
