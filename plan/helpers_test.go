package plan_test

import "dryfit/kits"

// stepAndPieces lists the names by which a step goes: its own and the ids of the
// pieces it fits.
func stepAndPieces(pieces []kits.Piece, j *kits.Join, w *kits.Wire, t *kits.Task) []string {
	switch {
	case w != nil:
		return []string{w.ID}
	case t != nil:
		return []string{t.Step}
	}
	var names []string
	if j.Step != "" {
		names = append(names, j.Step)
	}
	if !j.IsClose() {
		for _, p := range j.Pieces {
			names = append(names, pieces[p].ID)
		}
	}
	return names
}
