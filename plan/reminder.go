package plan

import (
	"dryfit/kits"
	"dryfit/kits/progress"
)

// Call is something that is out of reach for good once a step is done.
type Call struct {
	Step  int        // before which it must be done
	What  string     // [progress.TickFit], TickPaint, TickThread or TickDo
	Piece int        // the one fitted or painted; -1 for others
	Wire  string     // that is threaded
	Task  *kits.Task // that is done
	Space string     // that is shut
}

// Does says what the task of a call does; empty for other calls.
func (c Call) Does() string {
	if c.Task == nil {
		return ""
	}
	return c.Task.Do
}

// Reminder is one line of a last call, to tick off.
type Reminder struct {
	Call
	Painted bool          // the piece that is to be in must be painted as well
	Tick    progress.Tick // how it is recorded; survives renaming
	Text    string        // for the builder
}

// Reminders words the last call of a step for the builder. A piece that must be
// painted and fitted gets one line.
func (q *Sequence) Reminders(step int) []Reminder {
	painted, fitted := map[int]bool{}, map[int]bool{}
	for _, c := range q.calls[step] {
		painted[c.Piece] = painted[c.Piece] || c.What == progress.TickPaint
		fitted[c.Piece] = fitted[c.Piece] || c.What == progress.TickFit
	}
	var list []Reminder
	for _, c := range q.calls[step] {
		if c.What == progress.TickPaint && fitted[c.Piece] {
			continue // covered by the line of the piece
		}
		r := Reminder{Call: c, Painted: c.What == progress.TickFit && painted[c.Piece], Tick: q.tickOf(c)}
		if r.Text = q.remind(r); c.Space != "" {
			r.Text = c.Space + ": " + r.Text
		}
		list = append(list, r)
	}
	return list
}

// remind words one call.
func (q *Sequence) remind(c Reminder) string {
	switch {
	case c.Painted:
		return q.label(c.Piece) + " is painted and in"
	case c.What == progress.TickFit:
		return q.label(c.Piece) + " is in"
	case c.What == progress.TickPaint:
		return q.label(c.Piece) + " is painted inside"
	case c.What == progress.TickThread:
		return "wire " + c.Wire + " is threaded"
	}
	return "done: " + c.Does()
}

// tickOf is how a call is recorded when it is ticked off: by ids, so that
// renaming a part or rewording a step changes nothing.
func (q *Sequence) tickOf(c Call) progress.Tick {
	r := q.Solution.Constraints
	t := progress.Tick{Step: r.Name(c.Step), Kind: c.What, What: c.Wire}
	switch {
	case c.Task != nil:
		t.What = c.Task.Name()
	case c.Piece >= 0:
		t.What = r.PieceName(c.Piece)
	}
	return t
}

func (q *Sequence) label(piece int) string { return q.Solution.Constraints.Kit.Label(piece) }
