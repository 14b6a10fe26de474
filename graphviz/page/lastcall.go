package page

import "dryfit/plan"

// callLine is a line of a last call, to be ticked off.
type callLine struct {
	ID       string `json:"id"` // as progress files record it
	Text     string `json:"text"`
	sentence string // as they recorded it before ticks had ids
}

// lastCall lists the lines of the last call before a step.
func lastCall(q *plan.Sequence, step int) []callLine {
	list := []callLine{}
	for _, r := range q.Reminders(step) {
		list = append(list, callLine{r.Tick.String(), r.Text, q.Solution.Constraints.Does(step) + ": " + r.Text})
	}
	return list
}
