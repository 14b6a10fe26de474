package english

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// Span is a time in days and hours from three days on, otherwise in hours and
// minutes.
func Span(d time.Duration) string {
	const day = 24 * time.Hour
	two := func(large, small time.Duration, a, b string) string {
		text := fmt.Sprintf("%d %s", d/large, a)
		if n := d % large / small; n > 0 {
			text += fmt.Sprintf(" %d %s", n, b)
		}
		return text
	}
	switch {
	case d >= 3*day:
		return two(day, time.Hour, "d", "h")
	case d >= time.Hour:
		return two(time.Hour, time.Minute, "h", "min")
	case d >= time.Minute:
		return fmt.Sprintf("%d min", d/time.Minute)
	}
	return fmt.Sprintf("%d s", d/time.Second)
}

// Minutes is a time to the nearest minute.
func Minutes(d time.Duration) string {
	if d = d.Round(time.Minute); d == 0 {
		return "under 1 min"
	}
	return Span(d)
}

// AtMost is a figure, marked as an upper bound if it is one.
func AtMost(is bool, figure string) string {
	if is {
		return "at most " + figure
	}
	return figure
}

// Steps names steps by their numbers, in ascending order: step 4, steps 3-5, 9.
func Steps(list []int) string {
	if len(list) == 1 {
		return "step " + Ranges(list)
	}
	return "steps " + Ranges(list)
}

// Ranges writes ascending numbers with runs shortened: 3-5, 9.
func Ranges(list []int) string {
	var parts []string
	for i := 0; i < len(list); {
		k := i + 1
		for k < len(list) && list[k] == list[k-1]+1 {
			k++
		}
		text := strconv.Itoa(list[i])
		if k-i > 1 {
			text += "-" + strconv.Itoa(list[k-1])
		}
		parts = append(parts, text)
		i = k
	}
	return strings.Join(parts, ", ")
}

// Few lists at most the given number of names, and counts the rest.
func Few(names []string, most int) string {
	text := strings.Join(names[:min(len(names), most)], ", ")
	if n := len(names) - most; n > 0 {
		text += fmt.Sprintf(" and %d more", n)
	}
	return text
}
