package report

import (
	"fmt"
	"strconv"
	"time"

	"dryfit/plan"
)

// TimeData is the work schedule. Times are in seconds from the start of day 1.
type TimeData struct {
	Kit      string         `json:"kit"`                // name of the kit
	OK       bool           `json:"ok"`                 // the kit has no fault
	Hands    int            `json:"hands"`              // pairs of hands
	Day      int            `json:"day"`                // seconds of work a day; 0 is round the clock
	HandsOn  int            `json:"hands_on"`           // work of all steps
	Waiting  int            `json:"waiting"`            // time with nothing to do
	Elapsed  int            `json:"elapsed"`            // until the last step is done
	Cured    int            `json:"cured"`              // until all glue and paint has cured
	Bound    int            `json:"bound"`              // no plan with the same sub-builds is shorter
	Floor    int            `json:"bound_of_any_order"` // no plan of any order is shorter
	Untimed  int            `json:"untimed"`            // steps without a time
	Painted  int            `json:"painted_alone"`      // pieces painted by themselves
	Critical []int          `json:"critical_path"`      // numbers of the steps that decide when it is done
	Steps    []TimedStep    `json:"steps"`              // by their start
	Idle     []Idle         `json:"idle"`               // stretches with nothing to do
	Cautions []string       `json:"cautions"`           // for the work that the kit asks for
	Findings []plan.Finding `json:"findings"`           // faults first
}

// TimedStep is when a step is done.
type TimedStep struct {
	Number   int    `json:"number"`   // its place in the sequence; 0 for painting by itself
	Text     string `json:"text"`     // what is done
	Build    string `json:"build"`    // letter of the sub-build, empty for the main build
	Start    int    `json:"start"`    // seconds
	End      int    `json:"end"`      // seconds
	HandsOn  int    `json:"hands_on"` // seconds of work
	Sets     int    `json:"sets"`     // seconds that other steps wait after its end
	Who      int    `json:"who"`      // which pair of hands; 0 for a step without a time
	Critical bool   `json:"critical"` // it decides when the build is done

	Undo []string `json:"undo,omitempty"` // what is taken off for it first
	Redo []string `json:"redo,omitempty"` // what is put back then
}

// Idle is a stretch with nothing to do.
type Idle struct {
	From int `json:"from"` // seconds
	To   int `json:"to"`   // seconds
	Next int `json:"next"` // number of the step that ends it; 0 for painting
}

// Time reports the work schedule.
func Time(p *plan.Project, s *plan.Schedule) *Report {
	r := newReport(p.Kit, p.OK(), timeBlocks(p, s), timeSheet(s), timeData(p, s))
	r.Beside = without(p.Findings)
	return r
}

func seconds(d time.Duration) int { return int(d / time.Second) }

func timedStep(s *plan.Schedule, v int) TimedStep {
	q := s.Sequence
	first, then := aroundTimed(s, v)
	return TimedStep{s.Number(v), s.Does(v), q.Builds[q.BuildOf[s.Step(v)]].Letter, seconds(s.Start[v]), seconds(s.End[v]),
		seconds(s.Takes(v)), seconds(s.Sets[v]), s.Who[v], s.Critical[v], first, then}
}

func timeData(p *plan.Project, s *plan.Schedule) TimeData {
	out := TimeData{Kit: p.Kit.Name, OK: p.OK(), Hands: s.Hands, Day: seconds(s.Day), HandsOn: seconds(s.HandsOn), Waiting: seconds(s.Waiting),
		Elapsed: seconds(s.Length), Cured: seconds(s.Cured), Bound: seconds(s.Bound), Floor: seconds(s.Floor), Untimed: s.Untimed, Painted: s.Painted,
		Critical: []int{}, Steps: []TimedStep{}, Idle: []Idle{}, Cautions: cautions(p.Constraints.Hazards()), Findings: complete(p.Findings)}
	for _, l := range s.Chain {
		if s.Painting(l.Activity) == nil {
			out.Critical = append(out.Critical, s.Number(l.Activity))
		}
	}
	for _, v := range s.Order {
		out.Steps = append(out.Steps, timedStep(s, v))
	}
	for _, i := range s.Idle {
		out.Idle = append(out.Idle, Idle{seconds(i.From), seconds(i.To), s.Number(s.Next(i))})
	}
	return out
}

func timeSheet(s *plan.Schedule) [][]string {
	rows := [][]string{{"number", "what", "build", "start day", "start", "end day", "end", "hands-on seconds", "sets seconds", "who", "critical"}}
	aside := func(t time.Duration, list []string) {
		day, at := s.Clock(t, false)
		for _, text := range list {
			rows = append(rows, []string{"", text, "", strconv.Itoa(day), clock(at), "", "", "", "", "", ""})
		}
	}
	for _, v := range s.Order {
		row := timedStep(s, v)
		aside(s.Start[v], row.Undo)
		startDay, start := s.Clock(s.Start[v], false)
		endDay, end := s.Clock(s.End[v], true)
		rows = append(rows, []string{strconv.Itoa(row.Number), row.Text, row.Build, strconv.Itoa(startDay), clock(start), strconv.Itoa(endDay), clock(end),
			strconv.Itoa(row.HandsOn), strconv.Itoa(row.Sets), strconv.Itoa(row.Who), strconv.FormatBool(row.Critical)})
		aside(s.End[v], row.Redo)
	}
	return rows
}

// clock writes a time of the day: 2:05 is two hours and five minutes after the
// start of work.
func clock(d time.Duration) string {
	minutes := int(d.Round(time.Minute) / time.Minute)
	return fmt.Sprintf("%d:%02d", minutes/60, minutes%60)
}
