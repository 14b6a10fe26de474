package words

import (
	"strconv"
	"time"

	"dryfit/kits/english"
	"dryfit/plan"
)

// Time says how long the build takes by a schedule: the one sentence for it, wherever it
// is said. It is empty if the kit states no times.
func (l Language) Time(s *plan.Schedule) string {
	if s == nil || s.Length == 0 {
		return ""
	}
	pairs, day := l.Say("time.pair"), l.Say("time.always")
	if s.Hands > 1 {
		pairs = l.Say("time.pairs", "n", strconv.Itoa(s.Hands))
	}
	if s.Day != 0 {
		day = l.Say("time.daily", "hours", l.Span(s.Day))
	}
	key := "time.needed"
	if s.HandsOn == 0 {
		key = "time.waits"
	}
	return l.Say(key, "hands", l.Span(s.HandsOn), "all", l.Span(s.Length), "pairs", pairs, "day", day)
}

// Span is a length of time; its units are the same in every language.
func (l Language) Span(d time.Duration) string { return english.Span(d) }
