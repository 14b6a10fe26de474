package draw

import (
	"math"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// Paper is the room for a picture on the page, in mm.
type Paper struct{ Width, Height float64 }

const (
	resolution = 8.0  // pixels per mm of paper, to find what hides what
	margin     = 9.0  // mm of paper around the model, for labels
	inset      = 40.0 // mm of paper for the locator
	focusShare = 0.22 // of the picture's width: anything smaller is enlarged
	maxScale   = 4.0  // mm of paper per mm of the model
)

// painter makes one picture.
type painter struct {
	s         *Model
	scene     *Scene
	chosen    Choice
	view      View
	still     []int // those of the scene that are not left out
	away      []int
	movers    []Mover   // what must be seen: the new pieces, then those in place to be emphasised
	fresh     int       // how many of them are new
	distances []float64 // how far each mover is drawn from its seat, mm
	whole     box       // everything in the scene, in mm of the model
	focus     box       // what is new, in its seat and away from it
	region    box       // what the picture shows
	scale     float64
	zoomed    bool
	over      bool    // turned upside down, or back, since the step before
	buffer    *buffer // all that is drawn
	inner     Paper   // the picture without a locator beside it
	picture   *picture.Picture
}

// Render makes the picture of a scene. before is the view of the step before, or -1.
func (s *Model) Render(scene *Scene, c Choice, before int, paper Paper) Rendering {
	t := &painter{s: s, scene: scene, chosen: c, view: Views[c.View], still: scene.Still, movers: s.subjects(scene)}
	t.fresh = len(t.movers) - len(s.subjects(&Scene{Emphasis: scene.Emphasis}))
	t.setDistances(paper)
	out := Rendering{View: c.View, Turned: before >= 0 && before != c.View, Zoomed: t.zoomed}
	t.over = out.Turned && Views[before].Over() != t.view.Over()
	out.Over = t.over
	out.Seat, out.New = t.clear()
	out.Away = t.away
	t.draw()
	t.locate()
	if t.over {
		t.turnSign()
	}
	for i := range t.movers {
		for _, l := range t.movers[i].Way {
			out.Arrows = append(out.Arrows, l.Toward)
		}
	}
	out.Picture = t.picture.Round()
	return out
}

// leastArrow is the shortest travel, in mm of paper, on which an arrow can be seen.
const leastArrow = 9.0

// setDistances decides how far each mover is drawn from its seat, and with it the region:
// as far as was chosen, or far enough for an arrow.
func (t *painter) setDistances(paper Paper) {
	t.distances = make([]float64, len(t.movers))
	for i := range t.movers {
		t.distances[i] = t.s.reach(&t.movers[i])
		if i < len(t.chosen.Distance) {
			t.distances[i] = t.chosen.Distance[i]
		}
	}
	for range 3 { // drawing one farther away can make the scale smaller
		t.setRegion(paper)
		enough := true
		for i, m := range t.movers {
			if len(m.Way) == 0 {
				continue
			}
			across := t.across(m.Way[0].Toward)
			if across > 0.3 && t.distances[i]*across*t.scale < leastArrow {
				t.distances[i] = 1.05 * leastArrow / (across * t.scale)
				enough = false
			}
		}
		if enough {
			return
		}
	}
	t.setRegion(paper)
}

// across is how long a direction of length 1 shows in the view.
func (t *painter) across(d geom.Vec) float64 {
	a := d.Dot(t.view.Ahead)
	return math.Sqrt(math.Max(0, 1-a*a))
}

// moved is a mover where it is drawn.
func (t *painter) moved(i int) []thing {
	m := &t.movers[i]
	return t.s.things(false, m.Pieces, m.back(t.distances[i]))
}

// travelling is all new pieces where they are drawn.
func (t *painter) travelling() []thing {
	var list []thing
	for i := range t.fresh {
		list = append(list, t.moved(i)...)
	}
	return list
}

// standing is the pieces in place that reach into the picture.
func (t *painter) standing() []thing {
	return t.view.reaching(t.region, t.s.things(false, t.still, geom.Vec{}))
}

// setRegion decides what the picture shows and at which scale.
func (t *painter) setRegion(paper Paper) {
	t.zoomed, t.focus = false, noBox()
	for i, m := range t.movers {
		if i >= t.fresh && t.isLarge(m.Pieces) {
			continue // the end of a wire on a large piece: its point on the run is enough
		}
		t.focus = t.focus.and(shadows(t.view, t.moved(i)))
		t.focus = t.focus.and(shadows(t.view, t.s.things(false, m.Pieces, geom.Vec{})))
		for _, by := range m.path(t.distances[i]) { // the corners of its guide line
			p := t.s.centre(m.Pieces).Plus(by)
			t.focus = t.focus.with(p.Dot(t.view.Right), -p.Dot(t.view.Up))
		}
	}
	for _, p := range t.runPoints() {
		t.focus = t.focus.with(p.Dot(t.view.Right), -p.Dot(t.view.Up))
	}
	t.whole = t.focus
	for _, b := range t.s.things(false, t.scene.Still, geom.Vec{}) {
		t.whole = t.whole.and(t.view.shadow(b.body, geom.Vec{}))
	}
	if t.whole.empty() {
		t.whole = box{} // a picture of nothing
	}
	w, h := paper.Width-2*margin, paper.Height-2*margin
	t.region, t.scale = t.whole, rounded(math.Min(maxScale, fits(t.whole, w, h)))
	if t.focus.empty() || math.Max(t.focus.width(), t.focus.height())*t.scale > focusShare*paper.Width {
		return
	}
	w -= inset
	scale := rounded(math.Min(maxScale, fits(t.focus, 0.55*w, 0.6*h)))
	if scale < 1.5*t.scale {
		return
	}
	t.zoomed, t.scale = true, scale
	t.region = around(t.focus, w/scale, h/scale, t.whole)
}

func fits(b box, w, h float64) float64 {
	return math.Min(w/math.Max(b.width(), 0.01), h/math.Max(b.height(), 0.01))
}

// around is a box of some size around another, moved to lie within a third as far as
// possible.
func around(b box, w, h float64, within box) box {
	x, w := span((b.x0+b.x1)/2, w, within.x0, within.x1)
	y, h := span((b.y0+b.y1)/2, h, within.y0, within.y1)
	return box{x, y, x + w, y + h}
}

func span(middle, size, low, high float64) (from, length float64) {
	if size >= high-low {
		return low, high - low
	}
	return math.Min(math.Max(middle-size/2, low), high-size), size
}

// scales are those that people use: 1:10 to 4:1.
var scales = []float64{0.1, 0.125, 1.0 / 6, 0.2, 0.25, 1.0 / 3, 0.4, 0.5, 2.0 / 3, 1, 1.5, 2, 3, 4}

// rounded is the largest of scales that is not above a given one; below all of them it
// stays as it is.
func rounded(scale float64) float64 {
	out := scale
	for _, s := range scales {
		if s <= scale*1.0001 {
			out = s
		}
	}
	return out
}

func (t *painter) frame() frame { return framing(t.view, t.region, t.scale) }

// onPaper turns pixels into mm on the picture.
func onPaper(p picture.Point) picture.Point {
	return picture.Point{(p[0]-border)/resolution + margin, (p[1]-border)/resolution + margin}
}

// inMM turns lines in pixels of a frame into mm on a picture where its region begins at
// x, y.
func inMM(lines [][]picture.Point, x, y float64) [][]picture.Point {
	for _, l := range lines {
		for i, p := range l {
			l[i] = picture.Point{(p[0]-border)/resolution + x, (p[1]-border)/resolution + y}
		}
	}
	return lines
}

// inPixels is the reverse of onPaper.
func inPixels(p picture.Point) picture.Point {
	return picture.Point{(p[0]-margin)*resolution + border, (p[1]-margin)*resolution + border}
}

// at is where a place in the model is on the picture.
func (t *painter) at(p geom.Vec) picture.Point {
	f := t.frame()
	x, y, _ := f.project(p)
	return onPaper(picture.Point{x, y})
}
