package draw

import (
	"math"

	"dryfit/graphviz/picture"
)

const (
	arrowLine  = 0.7 // mm
	arrowHead  = 3.2
	arrowReach = 11.0 // longest shaft of an arrow
	haloLine   = 1.7  // white around an arrow, so that it stands out from lines behind it
	guideLine  = 0.22
)

// arrows draws for each new piece the guide line from where it is drawn to its seat,
// and on it the arrow of its travel.
func (t *painter) arrows() {
	for i := range t.fresh {
		m := &t.movers[i]
		if len(m.Way) == 0 {
			continue
		}
		line := t.guide(i)
		t.mark(picture.Mark{Paths: [][]picture.Point{line}, Stroke: "#ffffff", Width: 3 * guideLine})
		t.mark(picture.Mark{Paths: [][]picture.Point{line}, Stroke: ink, Width: guideLine, Dash: guideDash})
		t.arrowsOn(line)
	}
}

// guide is the line from where a mover is drawn to its seat.
func (t *painter) guide(i int) []picture.Point {
	c := t.s.centre(t.movers[i].Pieces)
	var line []picture.Point
	for _, by := range t.movers[i].path(t.distances[i]) {
		line = append(line, t.at(c.Plus(by)))
	}
	return line
}

// arrowsOn puts an arrow on each stretch of a guide line.
func (t *painter) arrowsOn(line []picture.Point) {
	for k := 0; k+1 < len(line); k++ {
		if p, q, ok := shaft(line[k], line[k+1]); ok {
			t.arrow(p, q)
		} else if k+2 == len(line) {
			t.headOn(line[k+1])
		}
	}
}

// shaft is where the arrow on a stretch of a guide line begins and ends; false if the
// stretch is too short for one.
func shaft(p, q picture.Point) (from, to picture.Point, ok bool) {
	l := distance(p, q)
	if l < 3 {
		return p, q, false
	}
	d := direction(p, q)
	long := math.Min(arrowReach, 0.55*l)
	end := math.Min(l, 0.5*l+long/2)
	return step(p, d, end-long), step(p, d, end), true
}

// direction is that from a point to another, of length 1.
func direction(p, q picture.Point) picture.Point {
	l := distance(p, q)
	return picture.Point{(q[0] - p[0]) / l, (q[1] - p[1]) / l}
}

func step(p, d picture.Point, by float64) picture.Point {
	return picture.Point{p[0] + d[0]*by, p[1] + d[1]*by}
}

// arrow is a heavy arrow with a white halo.
func (t *painter) arrow(p, q picture.Point) {
	d := direction(p, q)
	head := math.Min(arrowHead, 0.6*distance(p, q))
	neck := step(q, d, -head)
	side := picture.Point{-d[1], d[0]}
	tip := []picture.Point{q, step(neck, side, 0.42*head), step(neck, side, -0.42*head)}
	shaft := []picture.Point{p, step(q, d, -0.7*head)}
	t.mark(picture.Mark{Paths: [][]picture.Point{shaft}, Stroke: "#ffffff", Width: haloLine})
	t.mark(picture.Mark{Paths: [][]picture.Point{tip}, Closed: true, Stroke: "#ffffff", Width: 1, Fill: "#ffffff"})
	t.mark(picture.Mark{Paths: [][]picture.Point{shaft}, Stroke: ink, Width: arrowLine})
	t.mark(picture.Mark{Paths: [][]picture.Point{tip}, Closed: true, Fill: ink})
}

// headOn marks a travel straight away from the eye by the tail feathers of an arrow: a
// cross in a ring.
func (t *painter) headOn(at picture.Point) {
	const r = 2.0
	ring := circle(at, r)
	a := r * math.Sqrt2 / 2
	cross := [][]picture.Point{{{at[0] - a, at[1] - a}, {at[0] + a, at[1] + a}}, {{at[0] - a, at[1] + a}, {at[0] + a, at[1] - a}}}
	t.mark(picture.Mark{Paths: [][]picture.Point{ring}, Closed: true, Stroke: ink, Width: 0.4, Fill: "#ffffff"})
	t.mark(picture.Mark{Paths: cross, Stroke: ink, Width: 0.4})
}

func circle(at picture.Point, r float64) []picture.Point {
	const n = 32
	list := make([]picture.Point, n)
	for i := range list {
		s, c := math.Sincos(2 * math.Pi * float64(i) / n)
		list[i] = picture.Point{at[0] + r*c, at[1] + r*s}
	}
	return list
}
