package main

import (
	"fmt"
	"io"
	"slices"
	"strconv"
	"strings"
	"time"

	"dryfit/plan"
	"dryfit/plan/schedule"
)

// clock writes a time of the day: 2:05 is two hours and five minutes after work has
// begun.
func clock(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}

// when names a day and a time on it, as the end of something or not.
func when(s *plan.Schedule, t time.Duration, end bool) string {
	day, at := s.Clock(t, end)
	return fmt.Sprintf("day %d, %s", day, clock(at))
}

// longIdle is the idle time that is worth a row.
const longIdle = 10 * time.Minute

func timeText(w io.Writer, rep *plan.Project, s *plan.Schedule) error {
	p := &printer{w: w}
	st := styleFor(w)
	p.wrap("", "", timeSummary(rep, s))
	for i, line := range criticalPath(s) {
		if i == 0 {
			p.line("")
			p.line("%s", st.bold("Critical path"))
		}
		p.wrap("  ", "    ", line)
	}
	idle := s.Idle
	today := 0
	heading := func(t time.Duration) {
		if day, _ := s.Clock(t, false); day != today {
			today = day
			p.line("")
			p.line("%s", st.bold(fmt.Sprintf("Day %d", day)))
		}
	}
	for _, v := range s.Order {
		for len(idle) > 0 && idle[0].From < s.Start[v] {
			if idle[0].To-idle[0].From >= longIdle {
				heading(idle[0].From)
				p.wrap(fmt.Sprintf("%6s        -- ", clock(idle[0].From%(24*time.Hour))), "                 ", idleText(s, idle[0]))
			}
			idle = idle[1:]
		}
		heading(s.Start[v])
		first, text := timeLine(s, v)
		p.wrap(first, strings.Repeat(" ", len(first)), text)
	}
	return p.err
}

func timeSummary(rep *plan.Project, s *plan.Schedule) string {
	hours := "round the clock"
	if s.Day != 0 {
		hours = span(s.Day) + " a day"
	}
	hands := "one pair of hands"
	if s.Hands > 1 {
		hands = strconv.Itoa(s.Hands) + " pairs of hands"
	}
	text := fmt.Sprintf("%s: %s for %s, %s. Hands-on %s, waiting with nothing to do %s, elapsed %s: done on %s. All glue and paint has cured on %s.",
		rep.Kit.Name, many(len(s.Order), "step"), hands, hours, span(s.HandsOn), span(s.Waiting), span(s.Length), when(s, s.Length, true), when(s, s.Cured, true))
	switch {
	case s.Length == s.Floor:
		text += " No valid order of the kit is done sooner."
	case s.Least():
		text += " That is proven the least with these sub-builds, shut in this sequence; no valid order at all is done before " + when(s, s.Floor, true) + "."
	default:
		text += fmt.Sprintf(" With these sub-builds, shut in this sequence, it cannot be done before %s, and in no valid order at all before %s.", when(s, s.Bound, true), when(s, s.Floor, true))
	}
	switch {
	case s.Untimed == 1:
		text += " Of the steps, 1 states no time and counts as none."
	case s.Untimed > 1:
		text += fmt.Sprintf(" Of the steps, %d state no time and count as none.", s.Untimed)
	}
	return text
}

// longSetting is the setting time from which it is said what is done meanwhile.
const longSetting = time.Hour

// criticalPath lists the steps of the chain and, by themselves, the long waits in it.
func criticalPath(s *plan.Schedule) []string {
	var lines []string
	var run []int
	flush := func() {
		if len(run) > 0 {
			lines = append(lines, steps(run))
		}
		run = nil
	}
	for _, l := range s.Chain {
		if l.Cause == schedule.Waits {
			if sets := l.Free - s.End[l.On]; sets >= longSetting {
				flush()
				lines = append(lines, fmt.Sprintf("%s to set; meanwhile %s", span(sets), meanwhile(s, l)))
			}
		}
		run = append(run, s.Sequence.Place[l.Activity])
	}
	flush()
	return lines
}

// meanwhile lists what is done while a link of the chain waits.
func meanwhile(s *plan.Schedule, l schedule.Link) string {
	var list []int
	for _, w := range s.Between(s.End[l.On], s.Start[l.Activity]) {
		list = append(list, s.Sequence.Place[w])
	}
	if len(list) == 0 {
		return "there is nothing to do"
	}
	slices.Sort(list)
	return steps(list)
}

// steps names steps by their numbers.
func steps(list []int) string {
	if len(list) == 1 {
		return "step " + ranges(list)
	}
	return "steps " + ranges(list)
}

// ranges writes numbers in their sequence: 3-5, 9.
func ranges(list []int) string {
	var parts []string
	for i := 0; i < len(list); {
		k := i + 1
		for k < len(list) && list[k] == list[k-1]+1 {
			k++
		}
		switch k - i {
		case 1:
			parts = append(parts, strconv.Itoa(list[i]))
		default:
			parts = append(parts, fmt.Sprintf("%d-%d", list[i], list[k-1]))
		}
		i = k
	}
	return strings.Join(parts, ", ")
}

// timeLine is the row of a step: its times and mark, and what is done.
func timeLine(s *plan.Schedule, v int) (first, text string) {
	mark, who := " ", ""
	if s.Critical[v] {
		mark = ">"
	}
	if s.Hands > 1 {
		who = "   "
		if s.Who[v] > 0 {
			who = fmt.Sprintf("%3d", s.Who[v])
		}
	}
	day, start := s.Clock(s.Start[v], false)
	endDay, at := s.Clock(s.End[v], true)
	end := clock(at)
	if s.Takes(v) == 0 {
		end = ""
	}
	first = fmt.Sprintf("%6s %6s%s %s%4d. ", clock(start), end, who, mark, s.Sequence.Place[v])
	text = s.Sequence.Solution.Constraints.Does(v)
	var notes []string
	if endDay != day && s.Takes(v) > 0 {
		notes = append(notes, fmt.Sprintf("ends on day %d", endDay))
	}
	if s.Sets[v] >= longSetting {
		notes = append(notes, "sets "+span(s.Sets[v]))
	}
	if len(notes) > 0 {
		text += "  [" + strings.Join(notes, "; ") + "]"
	}
	return first, text
}

// idleText says how long there is nothing to do, and what is waited for.
func idleText(s *plan.Schedule, i schedule.Span) string {
	next := s.Next(i)
	text := fmt.Sprintf("nothing to do until %s", when(s, i.To, false))
	if l := s.Cause(next); l.Cause == schedule.Waits {
		text += fmt.Sprintf(": step %d sets until %s, then step %d", s.Sequence.Place[l.On], when(s, l.Free, false), s.Sequence.Place[next])
	}
	return text
}
