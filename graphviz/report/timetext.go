package report

import (
	"fmt"
	"slices"
	"strconv"
	"time"

	"dryfit/graphviz/document"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/schedule"
)

func timeBlocks(p *plan.Project, s *plan.Schedule) []document.Block {
	var b blocks
	b.text("%s", timeSummary(p, s))
	if path := criticalPath(s); len(path) > 0 {
		b.heading("Critical path")
		b.bullets(path)
	}
	for _, d := range days(s) {
		b.heading("Day %d", d.number)
		b.add(document.NewTable(timeHead(s), d.rows...))
	}
	b.add(cautionBlocks(p.Constraints.Hazards(), true)...)
	return b
}

// timeHead are the column heads of a day: who does a step is shown only if
// several work.
func timeHead(s *plan.Schedule) []string {
	if s.Hands > 1 {
		return []string{"start", "end", "who", "", "step", "what"}
	}
	return []string{"start", "end", "", "step", "what"}
}

// day is the rows of a day.
type day struct {
	number int
	rows   [][]string
}

// longIdle is the idle time from which it gets a row.
const longIdle = 10 * time.Minute

// days lists the steps and the long waits by the day on which they start.
func days(s *plan.Schedule) []day {
	var list []day
	add := func(t time.Duration, row []string) {
		n, _ := s.Clock(t, false)
		if len(list) == 0 || list[len(list)-1].number != n {
			list = append(list, day{number: n})
		}
		last := &list[len(list)-1]
		last.rows = append(last.rows, row)
	}
	idle := s.Idle
	for _, v := range s.Order {
		for len(idle) > 0 && idle[0].From < s.Start[v] {
			if idle[0].To-idle[0].From >= longIdle {
				add(idle[0].From, idleRow(s, idle[0]))
			}
			idle = idle[1:]
		}
		first, then := aroundTimed(s, v)
		for _, text := range first {
			add(s.Start[v], asideRow(s, s.Start[v], text))
		}
		add(s.Start[v], timeRow(s, v))
		for _, text := range then {
			add(s.End[v], asideRow(s, s.End[v], text))
		}
	}
	return list
}

// aroundTimed words what is taken off before an activity and put back after it, for
// which a kit gives no time.
func aroundTimed(s *plan.Schedule, v int) (first, then []string) {
	if s.Painting(v) != nil {
		return nil, nil
	}
	return around(s.Sequence.Solution.Constraints, s.Sequence.ActsFor(v))
}

// asideRow is what is done beside the steps, at its time.
func asideRow(s *plan.Schedule, t time.Duration, text string) []string {
	row := make([]string, len(timeHead(s)))
	_, at := s.Clock(t, false)
	row[0], row[len(row)-1] = clock(at), text
	return row
}

// timeRow is a step: its times, whether it is critical, and what is done.
func timeRow(s *plan.Schedule, v int) []string {
	startDay, start := s.Clock(s.Start[v], false)
	endDay, end := s.Clock(s.End[v], true)
	row := []string{clock(start), ""}
	if s.Takes(v) > 0 {
		row[1] = clock(end)
	}
	if s.Hands > 1 {
		who := ""
		if s.Who[v] > 0 {
			who = strconv.Itoa(s.Who[v])
		}
		row = append(row, who)
	}
	var notes []string
	if endDay != startDay && s.Takes(v) > 0 {
		notes = append(notes, fmt.Sprintf("ends on day %d", endDay))
	}
	if s.Sets[v] >= longSetting {
		notes = append(notes, "sets "+english.Span(s.Sets[v]))
	}
	mark := ""
	if s.Critical[v] {
		mark = ">"
	}
	number := ""
	if s.Painting(v) == nil {
		number = strconv.Itoa(s.Number(v))
	}
	return append(row, mark, number, bracketed(s.Does(v), notes))
}

func idleRow(s *plan.Schedule, i schedule.Span) []string {
	return asideRow(s, i.From, idleText(s, i))
}

// idleText says how long there is nothing to do, and what is waited for.
func idleText(s *plan.Schedule, i schedule.Span) string {
	next := s.Next(i)
	text := fmt.Sprintf("nothing to do until %s", when(s, i.To, false))
	if l := s.Cause(next); l.Cause == schedule.Waits {
		text += fmt.Sprintf(": %s sets until %s, then %s", named(s, l.On), when(s, l.Free, false), named(s, next))
	}
	return text
}

// named names an activity in a sentence.
func named(s *plan.Schedule, activity int) string {
	if s.Painting(activity) != nil {
		return fmt.Sprintf("the paint for step %d", s.Sequence.Place[s.Step(activity)])
	}
	return fmt.Sprintf("step %d", s.Number(activity))
}

// when words a day and a time; end says that something ends then.
func when(s *plan.Schedule, t time.Duration, end bool) string {
	day, at := s.Clock(t, end)
	return fmt.Sprintf("day %d, %s", day, clock(at))
}

func timeSummary(p *plan.Project, s *plan.Schedule) string {
	text := fmt.Sprintf("%s: %s. ", p.Kit.Name, english.Count(len(s.Sequence.Order), "step"))
	if needed := language.Time(s); needed != "" {
		text += needed + ". "
	}
	text += fmt.Sprintf("Done on %s, waiting with nothing to do %s. All glue and paint has cured on %s.",
		when(s, s.Length, true), english.Span(s.Waiting), when(s, s.Cured, true))
	switch {
	case s.Length == s.Floor:
		text += " No valid order of the kit is done sooner."
	case s.Least():
		text += " That is proven to be the shortest with these sub-builds, closed in this order; no valid order at all is done before " + when(s, s.Floor, true) + "."
	default:
		text += fmt.Sprintf(" With these sub-builds, closed in this order, it cannot be done before %s, and in no valid order at all before %s.", when(s, s.Bound, true), when(s, s.Floor, true))
	}
	switch {
	case s.Untimed == 1:
		text += " Of the steps, 1 states no time and counts as none."
	case s.Untimed > 1:
		text += fmt.Sprintf(" Of the steps, %d state no time and count as none.", s.Untimed)
	}
	return text + paintingText(p, s)
}

// paintingText says what the painting of pieces by themselves counts for.
func paintingText(p *plan.Project, s *plan.Schedule) string {
	if s.Painted == 0 {
		return ""
	}
	text := fmt.Sprintf(" %s by %s", english.Count(s.Painted, "piece is painted", "pieces are painted"), english.Plural(s.Painted, "itself", "themselves"))
	if t := p.Kit.Painting; t != nil {
		return text + ", " + english.Span(t.Takes) + " each."
	}
	return text + "; the kit gives no time for it under painting, so it counts as none."
}

// longSetting is the setting time from which the work done meanwhile is listed.
const longSetting = time.Hour

// criticalPath lists the steps of the chain and, on lines of their own, its long
// waits.
func criticalPath(s *plan.Schedule) []string {
	var lines []string
	var run []int
	flush := func() {
		if len(run) > 0 {
			lines = append(lines, english.Steps(run))
		}
		run = nil
	}
	for _, l := range s.Chain {
		if l.Cause == schedule.Waits {
			if sets := l.Free - s.End[l.On]; sets >= longSetting {
				flush()
				lines = append(lines, fmt.Sprintf("%s to set; meanwhile %s", english.Span(sets), meanwhile(s, l)))
			}
		}
		if s.Painting(l.Activity) != nil {
			flush()
			lines = append(lines, named(s, l.Activity))
			continue
		}
		run = append(run, s.Number(l.Activity))
	}
	flush()
	return lines
}

// meanwhile lists what is done while a link of the chain waits.
func meanwhile(s *plan.Schedule, l schedule.Link) string {
	var list []int
	painting := false
	for _, a := range s.Between(s.End[l.On], s.Start[l.Activity]) {
		if s.Painting(a) != nil {
			painting = true
			continue
		}
		list = append(list, s.Number(a))
	}
	slices.Sort(list)
	switch {
	case len(list) == 0 && painting:
		return "paint"
	case len(list) == 0:
		return "there is nothing to do"
	case painting:
		return english.Steps(list) + ", and painting"
	}
	return english.Steps(list)
}
