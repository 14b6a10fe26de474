package draw

import (
	"math"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// Styles of lines and areas. New pieces stand out by a heavy outline and a tone, which also
// shows in grey.
const (
	ink       = "#1a1a1a"
	paleInk   = "#8a8a8a"
	newTone   = "#bfe0dc"
	keyTone   = "#e3e3e3" // emphasised pieces in place
	newBend   = 0.18
	oldLine   = 0.22
	oldBend   = 0.12
	ghostLine = 0.2
)

// NewLine is the width of the outlines of new pieces, in mm.
const NewLine = 0.5

var (
	ghostDash = []float64{1.2, 0.8}
	guideDash = []float64{2.4, 0.7, 0.4, 0.7}
)

// draw makes the marks of the picture.
func (t *painter) draw() {
	t.inner = Paper{t.region.width()*t.scale + 2*margin, t.region.height()*t.scale + 2*margin}
	t.picture = &picture.Picture{Width: t.inner.Width, Height: t.inner.Height, Scale: t.scale}
	if t.zoomed {
		t.picture.Width += inset - margin + 1
		t.picture.Height = math.Max(t.picture.Height, t.locatorScale()*t.whole.height()+2*margin)
	}
	isNew := map[int32]bool{}
	for _, th := range t.travelling() {
		isNew[th.id] = true
	}
	inPlace := map[int32]bool{}
	for _, p := range t.scene.Emphasis {
		inPlace[int32(p+1)] = true
	}
	t.tone(isNew, newTone)
	t.tone(inPlace, keyTone)
	t.outOfTheWay()
	t.lines()
	t.picture.Lighten(newTone, keyTone)
	t.seatOutlines()
	t.run()
	t.arrows()
	t.labels()
	if t.zoomed {
		t.cutFrame()
	}
}

func (t *painter) mark(m picture.Mark) { t.picture.Marks = append(t.picture.Marks, m) }

// tone fills what can be seen of some pieces.
func (t *painter) tone(which map[int32]bool, fill string) {
	if len(which) == 0 {
		return
	}
	if rings := t.buffer.areas(func(id int32) bool { return which[id] }); len(rings) > 0 {
		t.mark(picture.Mark{Paths: rings, Closed: true, Fill: fill})
	}
}

// areas are the borders, on paper, of where some things show.
func (b *buffer) areas(in func(id int32) bool) [][]picture.Point {
	mask := make([]bool, len(b.id))
	for i, id := range b.id {
		mask[i] = in(id)
	}
	return inMM(contours(mask, b.width, b.height), margin, margin)
}

// lines draws all visible lines, the new ones last.
func (t *painter) lines() {
	old, fresh := t.buffer.strokes(t.standing()...), t.buffer.strokes(t.travelling()...)
	t.stroke(old.bends, paleInk, oldBend)
	t.stroke(old.outline, ink, oldLine)
	t.stroke(fresh.bends, ink, newBend)
	t.stroke(fresh.outline, ink, NewLine)
}

func (t *painter) stroke(lines [][]picture.Point, colour string, width float64) {
	if len(lines) > 0 {
		t.mark(picture.Mark{Paths: inMM(lines, margin, margin), Stroke: colour, Width: width})
	}
}

// outOfTheWay draws thin broken outlines where pieces were left out.
func (t *painter) outOfTheWay() {
	for _, th := range t.s.things(false, t.away, geom.Vec{}) {
		t.broken([]thing{th}, paleInk)
	}
}

// seatOutlines draws where the new pieces belong, hidden or not, in the broken lines of
// hidden edges.
func (t *painter) seatOutlines() {
	for _, m := range t.movers {
		if len(m.Way) == 0 {
			continue
		}
		t.broken(t.s.things(false, m.Pieces, geom.Vec{}), ink)
	}
}

// broken draws the outline of things in broken lines, whatever is in front of them.
func (t *painter) broken(things []thing, colour string) {
	b := newBuffer(t.frame(), things...)
	if rings := b.areas(func(id int32) bool { return id != 0 }); len(rings) > 0 {
		t.mark(picture.Mark{Paths: rings, Closed: true, Stroke: colour, Width: ghostLine, Dash: ghostDash})
	}
}

// cutFrame shows that the picture is part of a larger one.
func (t *painter) cutFrame() {
	w, h := t.inner.Width-margin, t.inner.Height-margin
	t.mark(picture.Mark{Paths: [][]picture.Point{rectangle(margin, margin, w, h)}, Closed: true, Stroke: paleInk, Width: 0.15})
}
