package chart

import (
	"fmt"
	"time"

	"dryfit/graphviz/picture"
)

// head draws the title and the key.
func (c *chart) head() {
	s := c.s
	hands := "1 pair of hands"
	if s.Hands > 1 {
		hands = fmt.Sprintf("%d pairs of hands", s.Hands)
	}
	hours := "round the clock"
	if s.Day > 0 {
		hours = fmt.Sprintf("%.4g h a day", s.Day.Hours())
	}
	c.y = chartMargin + chartTitle
	c.text(chartMargin, c.y, c.fit(fmt.Sprintf("%s: %s, %s", s.Sequence.Solution.Constraints.Kit.Name, hands, hours), 250*chartText/4, true), "start", 4, true)
	c.y += 2.5
	x := chartMargin
	for _, key := range []struct {
		text string
		draw func(x, y float64)
	}{
		{"work", func(x, y float64) { c.bar(x, x+8, y, false) }},
		{"work on the critical path", func(x, y float64) { c.bar(x, x+8, y, true) }},
		{"glue or paint sets, others wait", func(x, y float64) { c.hatch(x, x+8, y) }},
	} {
		key.draw(x, c.y)
		c.text(x+10, c.y+3.1, key.text, "start", chartText, false)
		x += 62
	}
	c.y += chartRow + 2
	c.top = c.y
}

// rows draws the steps by sub-builds, in the order in which these are started.
func (c *chart) rows() {
	q := c.s.Sequence
	steps := make([][]int, len(q.Builds))
	var builds []int
	for _, v := range c.s.Order {
		u := q.BuildOf[c.s.Step(v)]
		if len(steps[u]) == 0 {
			builds = append(builds, u)
		}
		steps[u] = append(steps[u], v)
	}
	for _, u := range builds {
		name := q.Title(u)
		if u > 0 {
			name = q.Builds[u].Letter + ": " + name
		}
		if c.count%chartRepeat == chartRepeat-1 {
			c.count++ // keep a name and its first step together
		}
		c.row()
		c.text(chartMargin, c.y-1.1, c.fit(name, chartLabels-2, true), "start", chartText, true)
		for _, v := range steps[u] {
			c.row()
			c.step(v, c.y-chartRow)
		}
	}
}

// row makes space for a row above c.y, and repeats the days every so many rows.
func (c *chart) row() {
	if c.count%chartRepeat == 0 {
		c.days(c.y)
		c.y += chartAxis
	}
	c.count++
	c.y += chartRow
	c.line("#dddddd", 0.08, []picture.Point{{chartMargin, c.y}, {chartWidth - chartMargin, c.y}})
}

// step draws a step in the row at y.
func (c *chart) step(v int, y float64) {
	s := c.s
	critical := s.Critical[v]
	label := s.Does(v)
	if s.Painting(v) == nil {
		label = fmt.Sprintf("%d. %s", s.Number(v), label)
	}
	c.text(chartMargin+2, y+3.2, c.fit(label, chartLabels-6, critical), "start", chartText, critical)
	from, to := c.x(s.Start[v]), c.x(s.End[v])
	to = max(to, from+leastBar)
	if until := c.x(s.End[v] + s.Sets[v]); until-to >= leastWait {
		c.hatch(to, until, y)
	}
	c.bar(from, to, y, critical)
}

// bar draws work in the row at y: on the critical path it is higher, with an arrowhead in
// front.
func (c *chart) bar(from, to, y float64, critical bool) {
	top, bottom := y+1.3, y+3.1
	if critical {
		top, bottom = y+0.5, y+3.9
		c.to.Add(picture.Mark{Paths: [][]picture.Point{{{from - 2.4, top}, {from - 0.2, y + 2.2}, {from - 2.4, bottom}}}, Closed: true, Fill: "#000000"})
	}
	c.to.Add(c.area(from, top, to, bottom, map[bool]string{true: "#000000", false: "#555555"}[critical]))
}

// hatch draws a wait in the row at y.
func (c *chart) hatch(from, to, y float64) {
	const step = 1.3
	top, bottom := y+1.3, y+3.1
	height := bottom - top
	var lines [][]picture.Point
	for x := from - height + step; x < to; x += step {
		a, b := max(x, from), min(x+height, to)
		lines = append(lines, []picture.Point{{a, bottom - (a - x)}, {b, bottom - (b - x)}})
	}
	c.line("#888888", 0.12, lines...)
	c.line("#888888", 0.15, []picture.Point{{from, top}, {to, top}, {to, bottom}, {from, bottom}, {from, top}})
}

// days writes the days and, where there is room, the hours, with a line at each day.
func (c *chart) days(y float64) {
	const full = 24 * time.Hour
	every := 1
	for c.x0(full)*float64(every) < 9 {
		every++
	}
	hours := 0
	for _, h := range []int{1, 2, 3, 4, 6, 12} {
		if c.scale*float64(h) >= 6.5 && time.Duration(h)*time.Hour < c.dayLength() {
			hours = h
			break
		}
	}
	for day := 0; time.Duration(day)*full < c.end; day++ {
		start := time.Duration(day) * full
		if day%every == 0 {
			c.text(c.x(start)+0.6, y+3, fmt.Sprintf("day %d", day+1), "start", chartText, true)
		}
		for h := hours; hours > 0 && time.Duration(h)*time.Hour < c.dayLength() && start+time.Duration(h)*time.Hour < c.end; h += hours {
			x := c.x(start + time.Duration(h)*time.Hour)
			c.text(x, y+6.2, fmt.Sprintf("%d:00", h), "middle", 1.9, false)
		}
	}
	c.line("#000000", 0.25, []picture.Point{{chartMargin + chartLabels, y + chartAxis - 0.4}, {chartWidth - chartMargin, y + chartAxis - 0.4}})
}

// nights finds the times without work.
func (c *chart) nights() {
	const full = 24 * time.Hour
	for start := time.Duration(0); c.s.Day > 0 && c.s.Day < full && start+c.s.Day < c.end; start += full {
		c.dark = append(c.dark, [2]float64{c.x(start + c.s.Day), c.x(start + full)})
	}
}

// under draws the nights and a line at the start of each day.
func (c *chart) under() []picture.Mark {
	var list []picture.Mark
	for _, n := range c.dark {
		list = append(list, c.area(n[0], c.top, n[1], c.y, "#e9e9e9"))
	}
	lines := picture.Mark{Stroke: "#999999", Width: 0.15}
	const full = 24 * time.Hour
	for start := time.Duration(0); start < c.end; start += full {
		lines.Paths = append(lines.Paths, []picture.Point{{c.x(start), c.top}, {c.x(start), c.y}})
	}
	return append(list, lines)
}
