package schedule

import "time"

// fullDay is the time from the start of one working day to the next.
const fullDay = 24 * time.Hour

// Day is the working time of each day, from the start of every 24 hours; 0 is
// round the clock. An activity that fits into a day is not interrupted: it starts
// early enough or waits for the morning. A longer one continues the next day.
// Waits between activities run day and night.
type Day time.Duration

// whole reports whether work goes on round the clock.
func (d Day) whole() bool { return d <= 0 || time.Duration(d) >= fullDay }

// split is the midnight before t and the time since, also for t before the start.
func split(t time.Duration) (midnight, since time.Duration) {
	since = t % fullDay
	if since < 0 {
		since += fullDay
	}
	return t - since, since
}

// Start is the earliest time from t on at which an activity may start.
func (d Day) Start(t, takes time.Duration) time.Duration {
	if d.whole() {
		return t
	}
	hours := time.Duration(d)
	midnight, since := split(t)
	if takes > hours && since < hours || since+takes <= hours {
		return t
	}
	return midnight + fullDay
}

// End is the time at which an activity ends if it starts at a time that
// [Day.Start] allows.
func (d Day) End(start, takes time.Duration) time.Duration {
	if d.whole() || takes == 0 {
		return start + takes
	}
	hours := time.Duration(d)
	midnight, since := split(start)
	work := since + takes // from the morning of the first day on
	nights := (work - 1) / hours
	return midnight + nights*fullDay + work - nights*hours
}

// latest is the latest start at which an activity ends at or before end.
func (d Day) latest(end, takes time.Duration) time.Duration {
	if d.whole() {
		return end - takes
	}
	hours := time.Duration(d)
	midnight, since := split(end)
	since = min(since, hours)
	if since >= takes {
		return midnight + since - takes
	}
	if takes <= hours {
		return midnight - fullDay + hours - takes
	}
	rest := takes - since // before this midnight
	nights := 1 + (rest-1)/hours
	return midnight - nights*fullDay + nights*hours - rest
}

// Working is the working time between two times.
func (d Day) Working(from, to time.Duration) time.Duration {
	if d.whole() {
		return to - from
	}
	return d.worked(to) - d.worked(from)
}

// worked is the working time from the start to t.
func (d Day) worked(t time.Duration) time.Duration {
	midnight, since := split(t)
	return midnight/fullDay*time.Duration(d) + min(since, time.Duration(d))
}
