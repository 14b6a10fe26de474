package draw

import (
	"math"

	"dryfit/graphviz/picture"
)

// The turn sign stands in the top left corner of a picture, in mm: the section of a hull
// on the bench, with half an arc over it.
const (
	signSize   = 9.0 // from the corner; no label comes into it
	signMiddle = 4.8
	signGround = 8.6 // the bench
	signHigh   = 3.4 // of the section
	signRadius = 3.3 // of the arc
)

// section is half of the section of a hull from the deck to the keel, each point by how
// far it is from the middle and how high above the keel, in mm.
var section = []picture.Point{{2.7, signHigh}, {2.3, 1.5}, {0.35, 0.7}, {0.35, 0}}

// turnSign says that the model was turned over since the step before. Its section lies as
// the model does now: on its keel, or on its deck.
func (t *painter) turnSign() {
	x, y := func(by float64) float64 { return signMiddle + by }, func(high float64) float64 { return signGround - high }
	if t.view.Over() {
		y = func(high float64) float64 { return signGround - signHigh + high }
	}
	hull := make([]picture.Point, 2*len(section))
	for i, p := range section {
		hull[i], hull[len(hull)-1-i] = picture.Point{x(p[0]), y(p[1])}, picture.Point{x(-p[0]), y(p[1])}
	}
	t.mark(picture.Mark{Paths: [][]picture.Point{hull}, Closed: true, Stroke: ink, Width: 0.35, Fill: keyTone})
	t.mark(picture.Mark{Paths: [][]picture.Point{{{signMiddle - 4, signGround}, {signMiddle + 4, signGround}}}, Stroke: ink, Width: 0.35})
	const last = 165.0 // degrees; the head takes the rest of the half
	arc := make([]picture.Point, 17)
	for i := range arc {
		s, c := math.Sincos(last * float64(i) / float64(len(arc)-1) * math.Pi / 180)
		arc[i] = picture.Point{x(-signRadius * c), signGround - signHigh - 0.3 - signRadius*s}
	}
	t.mark(picture.Mark{Paths: [][]picture.Point{arc}, Stroke: ink, Width: 0.45})
	end := arc[len(arc)-1]
	d := direction(arc[len(arc)-2], end)
	side := picture.Point{-d[1], d[0]}
	t.mark(picture.Mark{Paths: [][]picture.Point{{step(end, d, 1.3), step(end, side, 0.8), step(end, side, -0.8)}}, Closed: true, Fill: ink})
}
