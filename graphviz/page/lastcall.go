package page

import (
	"dryfit/kits/progress"
	"dryfit/plan"
)

// callLine is a line of a last call, to be ticked off.
type callLine struct {
	ID       string `json:"id"` // as progress files record it
	Text     string `json:"text"`
	sentence string // as they recorded it before ticks had ids
}

// lastCall lists the lines of the last call before a step.
func lastCall(q *plan.Sequence, step int) []callLine {
	list := []callLine{}
	ids := callIDs(q, step)
	for i, text := range q.Ticks(step) {
		list = append(list, callLine{ids[i], text, q.Solution.Constraints.Does(step) + ": " + text})
	}
	return list
}

// callIDs are the ids of what [plan.Sequence.Ticks] lists. A piece to be painted and
// fitted has one line there, by its fit.
func callIDs(q *plan.Sequence, step int) []string {
	r := q.Solution.Constraints
	fitted := map[int]bool{}
	var ids []string
	for _, c := range q.LastCall(step) {
		t := progress.Tick{Step: r.Name(step), Kind: c.What}
		switch c.What {
		case progress.TickFit:
			fitted[c.Piece] = true
			t.What = r.Kit.Pieces[c.Piece].ID
		case progress.TickPaint:
			if fitted[c.Piece] {
				continue
			}
			t.What = r.Kit.Pieces[c.Piece].ID
		case progress.TickThread:
			t.What = c.Wire
		case progress.TickDo:
			t.What = c.Task
		}
		ids = append(ids, t.String())
	}
	return ids
}
