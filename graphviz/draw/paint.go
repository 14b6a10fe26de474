package draw

import (
	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"math"
)

// How lines and areas look. What is new stands out by its heavy outline and its tone,
// which also shows in grey.
const (
	ink       = "#1a1a1a"
	paleInk   = "#8a8a8a"
	newTone   = "#f4d58d"
	keyTone   = "#e3e3e3" // pieces that a step is about and that stand already
	newBend   = 0.18
	oldLine   = 0.22
	oldBend   = 0.12
	ghostLine = 0.2
)

// NewLine is the width, in mm, of the outline of what is new.
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
	for i := range t.fresh {
		for _, th := range t.moved(i) {
			isNew[th.id] = true
		}
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
	mask := make([]bool, len(t.buffer.id))
	for i, id := range t.buffer.id {
		mask[i] = which[id]
	}
	if rings := paper(contours(mask, t.buffer.width, t.buffer.height)); len(rings) > 0 {
		t.mark(picture.Mark{Paths: rings, Closed: true, Fill: fill})
	}
}

func paper(lines [][]picture.Point) [][]picture.Point {
	for _, l := range lines {
		for i := range l {
			l[i] = onPaper(l[i])
		}
	}
	return lines
}

// lines draws all visible lines, the new ones last.
func (t *painter) lines() {
	var old strokes
	for _, th := range t.s.things(false, t.still, geom.Vec{}) {
		if t.view.boxShadow(th.body.Box).meets(t.region) {
			s := t.buffer.strokes(th)
			old.outline, old.bends = append(old.outline, s.outline...), append(old.bends, s.bends...)
		}
	}
	var fresh strokes
	for i := range t.fresh {
		for _, th := range t.moved(i) {
			s := t.buffer.strokes(th)
			fresh.outline, fresh.bends = append(fresh.outline, s.outline...), append(fresh.bends, s.bends...)
		}
	}
	t.stroke(old.bends, paleInk, oldBend)
	t.stroke(old.outline, ink, oldLine)
	t.stroke(fresh.bends, ink, newBend)
	t.stroke(fresh.outline, ink, NewLine)
}

func (t *painter) stroke(lines [][]picture.Point, colour string, width float64) {
	if len(lines) > 0 {
		t.mark(picture.Mark{Paths: paper(lines), Stroke: colour, Width: width})
	}
}

// outOfTheWay draws where pieces are that were left out: a thin broken outline.
func (t *painter) outOfTheWay() {
	for _, th := range t.s.things(false, t.away, geom.Vec{}) {
		t.outline(th, paleInk)
	}
}

// seatOutlines draws where the new pieces belong, whether that can be seen or not, in
// broken lines as hidden edges are.
func (t *painter) seatOutlines() {
	for _, m := range t.movers {
		if len(m.Way) == 0 {
			continue
		}
		b := newBuffer(t.frame())
		b.add(t.s.things(false, m.Pieces, geom.Vec{})...)
		t.broken(b, ink)
	}
}

func (t *painter) outline(th thing, colour string) {
	b := newBuffer(t.frame())
	b.add(th)
	t.broken(b, colour)
}

func (t *painter) broken(b *buffer, colour string) {
	mask := make([]bool, len(b.id))
	for i, id := range b.id {
		mask[i] = id != 0
	}
	rings := contours(mask, b.width, b.height)
	if len(rings) > 0 {
		t.mark(picture.Mark{Paths: paper(rings), Closed: true, Stroke: colour, Width: ghostLine, Dash: ghostDash})
	}
}

// cutFrame shows that the picture is a part of a larger one.
func (t *painter) cutFrame() {
	w, h := t.inner.Width-margin, t.inner.Height-margin
	t.mark(picture.Mark{Paths: [][]picture.Point{{{margin, margin}, {w, margin}, {w, h}, {margin, h}}}, Closed: true, Stroke: paleInk, Width: 0.15})
}
