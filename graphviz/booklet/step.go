package booklet

import (
	"slices"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/bill"
)

// step words one step.
func (w *stepWriter) step(v int, scale float64) (document.Step, error) {
	n := w.q.Place[v]
	s := document.Step{ID: document.StepID(n), Number: n, Place: w.place(v), Title: w.action(v), Before: w.before(v)}
	if ticks := w.ticks(v); ticks != nil {
		s.LastCall = &document.Ticks{Title: w.l.Say("last-call.title"), Items: ticks}
	}
	var err error
	if s.Needs, err = w.items(v, scale); err != nil {
		return s, err
	}
	s.First, s.Then = w.around(v)
	s.Notes = w.notes(v)
	s.Signs = w.signs(v)
	if p := w.pictures[v]; p != nil {
		s.Figure = &document.Figure{Picture: p.Picture, Alt: w.alt(p), Caption: w.caption(p)}
	}
	return s, nil
}

// action is the title of a step, in the imperative.
func (m *maker) action(v int) string {
	s := m.rules.Steps[v]
	switch s.Kind {
	case plan.Fit:
		if u := m.joinOf(v); u > 0 {
			return m.l.Say("step.fit-unit", "letter", m.q.Builds[u].Letter, "what", m.pieces(s.Join.Pieces), "to", m.pieces(s.Join.Onto))
		}
		return m.l.Say("step.fit", "what", m.pieces(s.Join.Pieces), "to", m.pieces(s.Join.Onto))
	case plan.Close:
		return m.l.Say("step.close", "a", m.piece(s.Join.Pieces[0]), "b", m.piece(s.Join.Pieces[1]))
	case plan.Thread:
		if len(s.Wire.Through) > 0 {
			return m.l.Say("step.thread-through", "wire", s.Wire.ID, "from", m.piece(s.Wire.From), "through", m.pieces(s.Wire.Through), "to", m.piece(s.Wire.To))
		}
		return m.l.Say("step.thread", "wire", s.Wire.ID, "from", m.piece(s.Wire.From), "to", m.piece(s.Wire.To))
	}
	text := remarked(s.Task.Do)
	if !strings.HasSuffix(text, ".") {
		text += "."
	}
	return text
}

// around words what is taken off before a step and put back after it.
func (m *maker) around(v int) (first, then []string) {
	say := func(join int, fit, closing string) string {
		s := m.rules.Steps[join]
		if s.Kind == plan.Close {
			return m.l.Say(closing, "a", m.piece(s.Join.Pieces[0]), "b", m.piece(s.Join.Pieces[1]))
		}
		return m.l.Say(fit, "what", m.pieces(s.Join.Pieces))
	}
	for _, a := range m.q.ActsFor(v) {
		switch {
		case a.Off:
			first = append(first, say(a.Step, "undo.fit", "undo.close"))
		case a.Back:
			then = append(then, say(a.Step, "redo.fit", "redo.close"))
		}
	}
	return first, then
}

// tickKeys are the words for each kind of call.
var tickKeys = map[string]string{progress.TickFit: "last-call.in", progress.TickPaint: "last-call.painted", progress.TickThread: "last-call.wire", progress.TickDo: "last-call.do"}

// ticks words what can never be reached again once the step is done, the copies of a
// part on one line.
func (m *maker) ticks(v int) []string {
	calls := m.q.Reminders(v)
	var list []string
	named := map[int]bool{}
	for i, c := range calls {
		if named[i] {
			continue
		}
		key := tickKeys[c.What]
		if c.Painted {
			key = "last-call.painted-in"
		}
		var pieces []int
		for k := i; c.Piece >= 0 && k < len(calls); k++ {
			d := calls[k]
			if d.What == c.What && d.Space == c.Space && d.Painted == c.Painted && d.Piece >= 0 && m.kit.Pieces[d.Piece].Part == m.kit.Pieces[c.Piece].Part {
				named[k] = true
				pieces = append(pieces, d.Piece)
			}
		}
		text := m.l.Say(key, "part", m.pieces(pieces), "wire", c.Wire, "task", timesSigns(c.Does()))
		if c.Space != "" {
			text = m.l.Say("last-call.space", "space", strings.ReplaceAll(c.Space, "-", " "), "what", text)
		}
		list = append(list, text)
	}
	return list
}

// items are the parts that are new in a step, with their pictures at one scale.
func (m *maker) items(v int, scale float64) ([]document.Item, error) {
	s := m.rules.Steps[v]
	var list []document.Item
	for _, run := range m.kit.Runs(s.Fits()) {
		part := m.kit.Pieces[run[0]].Part
		cell, err := m.portrait(part, scale)
		if err != nil {
			return nil, err
		}
		item := document.Item{Ref: m.numbers.Of(part), Name: timesSigns(part.Name), Count: len(run), Picture: cell.Picture, Alt: cell.Alt, Link: m.partID(part)}
		if cell.Picture != nil && cell.Text != "" {
			item.Name += " (" + cell.Text + ")"
		}
		list = append(list, item)
	}
	return list, nil
}

// notes say what to do it with, what to wait for, what to paint, and what the kit says.
func (w *stepWriter) notes(v int) []string {
	s := w.rules.Steps[v]
	var list []string
	say := func(key string, values ...string) { list = append(list, w.l.Say(key, values...)) }
	for _, wait := range w.q.Waits(v) {
		if !w.waited[wait.On] {
			w.waited[wait.On] = true
			say("step.wait", "time", w.l.Span(wait.For), "step", strconv.Itoa(w.q.Place[wait.On]))
		}
	}
	list = append(list, w.paintNotes(v, s)...)
	if inside := w.q.PaintInside(v); len(inside) > 0 {
		say("step.painted-inside", "parts", w.pieces(inside))
	}
	switch {
	case s.Join != nil:
		list = append(list, w.joinNotes(v, s)...)
	case s.Wire != nil:
		if s.Wire.Bare {
			say("step.bare")
		}
		say("step.spare")
	default:
		if masked := w.maskedBy(v); masked != "" {
			say("step.masked-by-now", "parts", masked)
		}
		if s.Task.Cure > 0 {
			say("step.cure", "time", w.l.Span(s.Task.Cure))
		}
	}
	if t := s.Takes(); t > 0 {
		say("step.takes", "time", w.l.Span(t))
	}
	if note := s.Note(); note != "" {
		list = append(list, remarked(note))
	}
	return list
}

// paintNotes say which parts are painted by themselves before the step.
func (w *stepWriter) paintNotes(v int, s plan.Step) []string {
	var list []string
	seen := map[*kits.Part]bool{}
	for _, p := range w.q.PaintFirst(v) {
		part := w.kit.Pieces[p].Part
		if seen[part] {
			continue
		}
		seen[part] = true
		text := w.l.Say("step.paint."+part.Paint, "part", w.part(part))
		if f := s.With(); f != nil && f.Kind == kits.Glue {
			text += " " + w.l.Say("step.glue-faces")
		}
		list = append(list, text)
	}
	return list
}

func (w *stepWriter) joinNotes(v int, s plan.Step) []string {
	var list []string
	say := func(key string, values ...string) { list = append(list, w.l.Say(key, values...)) }
	if f := s.Join.Fixing; f != nil {
		text := w.l.Say("step.with", "fixing", w.fixing(f))
		if f.Handle > 0 || f.Cure > 0 {
			text += " " + w.l.Say("step.handle", "handle", w.l.Span(f.Handle), "cure", w.l.Span(f.Cure))
		}
		list = append(list, text)
	}
	seen := map[*kits.Part]bool{}
	for _, p := range s.Join.Pieces {
		part := w.kit.Pieces[p].Part
		if seen[part] || s.Kind == plan.Close {
			continue
		}
		seen[part] = true
		if part.Paint == kits.PaintMasked {
			say("step.masked", "part", w.part(part))
		}
		if part.Fragile {
			say("step.fragile")
		}
	}
	for _, f := range w.rep.Findings {
		if f.Grade != plan.Caution || !slices.Contains(w.rep.StepsOf(f), v) {
			continue
		}
		switch f.Kind {
		case plan.Turning:
			say("step.turning")
		case plan.Blocked:
			say("step.snap")
		}
	}
	if s.Kind == plan.Close {
		say("step.dry")
	}
	return list
}

// maskedBy names what is kept unpainted and stands on the model at an outside coat.
func (m *maker) maskedBy(v int) string { return m.pieces(m.q.MaskedPieces(v)) }

// signs are the short words in a frame: turned over, do not glue, mirrored.
func (m *maker) signs(v int) []string {
	var list []string
	if p := m.pictures[v]; p != nil && p.Over {
		list = append(list, m.turnedSign(p))
	}
	s := m.rules.Steps[v]
	if s.Join == nil {
		return list
	}
	if s.Join.Opens || s.Join.Fixing != nil && s.Join.Fixing.Kind == kits.Loose {
		list = append(list, m.l.Say("sign.no-glue"))
	}
	if s.Kind == plan.Fit {
		part := m.kit.Pieces[s.Join.Pieces[0]].Part
		if bill.Mirrored(m.rep, part) {
			list = append(list, m.l.Say("sign.mirror", "a", m.numbers.Of(part), "b", m.numbers.Of(part.Pair)))
		}
	}
	return list
}

// caption says what a reader must know of a picture.
func (m *maker) caption(p *StepPicture) string {
	var list []string
	if p.Turned {
		list = append(list, m.seenFrom(p.View))
	}
	key := "picture.caption"
	if p.Zoomed {
		key = "picture.enlarged"
	}
	list = append(list, m.l.Say(key, "scale", m.ratio(p.Picture.Scale)))
	if len(p.Away) > 0 {
		list = append(list, m.l.Say("picture.away", "parts", m.pieces(p.Away)))
	}
	if len(p.Scene.Run) > 0 {
		list = append(list, m.l.Say("picture.run"))
	} else if p.Seat < draw.LeastSeat {
		list = append(list, m.l.Say("picture.hidden"))
	}
	for _, mv := range p.Scene.Movers {
		if len(mv.Way) == 0 {
			list = append(list, m.l.Say("picture.no-way"))
			break
		}
	}
	if bare := m.withoutMesh(p); len(bare) > 0 {
		list = append(list, m.l.Say("picture.some", "parts", m.pieces(bare)))
	}
	return strings.Join(list, " ")
}

// withoutMesh lists what is new in a step and is not in its picture.
func (m *maker) withoutMesh(p *StepPicture) []int {
	var list []int
	for _, mv := range p.Scene.Movers {
		for _, piece := range mv.Pieces {
			if !m.renderer.Has(piece) {
				list = append(list, piece)
			}
		}
	}
	return list
}

// alt says in words what the picture of a step shows.
func (m *maker) alt(p *StepPicture) string {
	s := m.rules.Steps[p.Step]
	if s.Wire != nil {
		return m.l.Say("picture.alt.wire", "wire", s.Wire.ID, "run", m.pieces(p.Scene.Run))
	}
	what := m.pieces(s.Join.Pieces)
	if s.Kind == plan.Close {
		what = m.piece(s.Join.Pieces[1])
	}
	if len(p.Scene.Movers[0].Way) == 0 {
		return m.l.Say("picture.alt.still", "what", what)
	}
	way := ""
	for _, leg := range p.Scene.Movers[0].Way {
		text := m.l.Say("picture.axis", "axis", english.Direction(leg.Toward))
		if way != "" {
			text = m.l.Say("picture.then", "list", way, "last", text)
		}
		way = text
	}
	return m.l.Say("picture.alt.fit", "what", what, "way", way)
}
