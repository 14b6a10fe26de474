// Package chart draws a schedule: a row for each step, by sub-builds, from left to right
// in time.
package chart

import (
	"fmt"
	"slices"
	"time"

	"golang.org/x/image/font"
	"golang.org/x/image/font/opentype"

	"dryfit/graphviz/fonts"
	"dryfit/graphviz/picture"
	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/schedule"
)

// Measures of a chart, in mm. It is as wide as an A3 sheet is long, and as high as its rows
// need.
const (
	chartWidth  = 420.0
	chartMargin = 8.0
	chartRow    = 4.4
	chartLabels = 112.0 // room for the labels, from the margin
	chartText   = 2.6   // size of letters
	chartTitle  = 5.0
	chartAxis   = 7.0  // height of the row of days
	chartRepeat = 45   // rows after which the days are written again
	leastBar    = 0.6  // the shortest bar of a step
	leastWait   = 1.0  // shorter waits are left out
	nightShare  = 0.08 // width of an hour of the night, in working hours
)

// MaxSteps is the largest number of steps in a chart.
const MaxSteps = 2000

// SVG draws a schedule as a file. Work is dark and setting hatched; steps on the critical
// path have an arrowhead, a higher bar and bold letters. Nights are narrow and grey.
func SVG(s *plan.Schedule) ([]byte, error) {
	if len(s.Order) > MaxSteps {
		return nil, fmt.Errorf("a chart has room for %d steps, not %d; use --format csv", MaxSteps, len(s.Order))
	}
	c, err := newChart(s)
	if err != nil {
		return nil, err
	}
	c.head()
	c.nights()
	c.rows()
	c.days(c.y)
	c.to.Height = c.y + chartAxis + chartMargin
	// The background and the nights are beneath everything else.
	c.to.Marks = slices.Concat([]picture.Mark{c.area(0, 0, chartWidth, c.to.Height, "#ffffff")}, c.under(), c.to.Marks)
	title := "Time chart of " + kits.Plain(s.Sequence.Solution.Constraints.Kit.Name)
	return svg.File(c.to.SVG(title)), nil
}

type chart struct {
	s           *plan.Schedule
	to          *picture.Picture
	day         schedule.Day
	end         time.Duration // of the axis
	scale       float64       // mm for an hour of work
	y           float64       // of the next row
	top         float64       // of the first row
	count       int           // of rows
	dark        [][2]float64  // the nights, from and to
	plain, bold font.Face
}

func newChart(s *plan.Schedule) (*chart, error) {
	c := &chart{s: s, to: &picture.Picture{Width: chartWidth}, day: schedule.Day(s.Day), scale: 1}
	const full = 24 * time.Hour
	c.end = max(s.Length, time.Hour)
	if s.Day == 0 || s.Length > s.Day {
		c.end = max((s.Length-1)/full*full+c.dayLength(), s.Length)
	}
	c.scale = (chartWidth - 2*chartMargin - chartLabels) / c.x0(c.end)
	var err error
	if c.plain, err = chartFace(false); err != nil {
		return nil, err
	}
	c.bold, err = chartFace(true)
	return c, err
}

func chartFace(bold bool) (font.Face, error) {
	parsed, err := opentype.Parse(fonts.Sans(bold, false))
	if err != nil {
		return nil, err
	}
	// Rounded to hundredths of a mm.
	return opentype.NewFace(parsed, &opentype.FaceOptions{Size: chartText * 100, DPI: 72, Hinting: font.HintingNone})
}

// dayLength is the length of a working day.
func (c *chart) dayLength() time.Duration {
	if c.s.Day == 0 {
		return 24 * time.Hour
	}
	return c.s.Day
}

// x0 is the distance of a time from the start of the axis, in mm.
func (c *chart) x0(t time.Duration) float64 {
	work := c.day.Working(0, t)
	return c.scale * (work.Hours() + nightShare*(t-work).Hours())
}

func (c *chart) x(t time.Duration) float64 { return chartMargin + chartLabels + c.x0(min(t, c.end)) }

func (c *chart) text(x, y float64, text, anchor string, size float64, bold bool) {
	c.to.Add(picture.Mark{Paths: [][]picture.Point{{{x, y}}}, Text: text, Size: size, Bold: bold, Anchor: anchor, Fill: "#000000"})
}

func (c *chart) area(x1, y1, x2, y2 float64, fill string) picture.Mark {
	return picture.Mark{Paths: [][]picture.Point{{{x1, y1}, {x2, y1}, {x2, y2}, {x1, y2}}}, Closed: true, Fill: fill}
}

func (c *chart) line(stroke string, width float64, paths ...[]picture.Point) {
	c.to.Add(picture.Mark{Paths: paths, Stroke: stroke, Width: width})
}

// fit cuts a text to a width in mm.
func (c *chart) fit(text string, width float64, bold bool) string {
	face := c.plain
	if bold {
		face = c.bold
	}
	wide := func(s string) float64 { return float64(font.MeasureString(face, s)) / 64 / 100 }
	if wide(text) <= width {
		return text
	}
	runes := []rune(text)
	runes = runes[:min(len(runes), 400)]
	for len(runes) > 0 && wide(string(runes)+"...") > width {
		runes = runes[:len(runes)-1]
	}
	return string(runes) + "..."
}
