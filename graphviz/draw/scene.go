package draw

import (
	"sync"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
)

// Model holds the bodies of a kit by the number of the piece; nil for a piece without a
// mesh.
type Model struct {
	Bodies []*Body

	once  sync.Once
	rough []*Body // the same with few triangles, to choose views by
}

// Scene is what a picture of a step shows.
type Scene struct {
	Still    []int   // the pieces in place
	Movers   []Mover // the new pieces
	Onto     []int   // pieces in place that the new ones are fitted to: never left out
	Run      []int   // pieces that a wire is threaded through, in order
	Emphasis []int   // pieces in place that are toned and labelled
	Labels   map[int]string
}

// Mover is pieces that travel together into their seat.
type Mover struct {
	Pieces []int
	Way    []geom.Leg // in order of travel, the first from outside; empty if none is known, and then it is drawn in its seat
	Label  string
}

// Rendering is a picture of a step and what was measured of it.
type Rendering struct {
	Picture *picture.Picture
	View    int     // index in [Views]
	Turned  bool    // the view differs from that of the step before
	Over    bool    // the model was turned upside down, or back
	Away    []int   // pieces left out because they hide the seats
	New     float64 // share of the new pieces that can be seen where they are drawn, of the worst mover
	Seat    float64 // share of them that other pieces do not hide once seated, of the worst mover
	Zoomed  bool    // a part of the model, with a locator
	Arrows  []geom.Vec
}

// Views are the views that steps are drawn from. The names are for the caller to word.
var Views = standardViews()

func standardViews() []View {
	var list []View
	add := func(name string, around, above float64, over bool) {
		v := NewView(around, above, over)
		v.Name = name
		list = append(list, v)
	}
	corners := []float64{215, 325, 35, 145}
	for _, a := range corners {
		add("above", a, 30, false)
	}
	for _, a := range corners {
		add("high", a, 60, false)
	}
	for _, a := range []float64{270, 90, 180, 0} {
		add("side", a, 18, false)
	}
	for _, a := range corners {
		add("below", a, -30, true)
	}
	for _, a := range corners {
		add("deep", a, -60, true)
	}
	return list
}

// things lists the bodies of pieces, with ids one more than their numbers.
func (s *Model) things(rough bool, pieces []int, by geom.Vec) []thing {
	from := s.Bodies
	if rough {
		from = s.roughBodies()
	}
	var list []thing
	for _, p := range pieces {
		if b := from[p]; b != nil && !b.Empty() {
			list = append(list, thing{b, by, int32(p + 1)})
		}
	}
	return list
}

// box is that of some pieces in the model; false if none of them has a body.
func (s *Model) box(pieces []int) (geom.Box, bool) {
	var list []geom.Box
	for _, t := range s.things(false, pieces, geom.Vec{}) {
		list = append(list, t.body.Box)
	}
	return bound(list)
}

// bound is the box around boxes; false if there are none.
func bound(list []geom.Box) (all geom.Box, ok bool) {
	for i, b := range list {
		if i == 0 {
			all = b
		}
		all = all.With(b.Min).With(b.Max)
	}
	return all, len(list) > 0
}

func (s *Model) centre(pieces []int) geom.Vec {
	b, _ := s.box(pieces)
	return b.Centre()
}

// shadows is the box of several things in a view.
func shadows(v View, list []thing) box {
	out := noBox()
	for _, t := range list {
		out = out.and(v.shadow(t.body, t.by))
	}
	return out
}

// back is how far a mover is drawn from its seat: all of its legs but the first, and so
// much of the first, in mm.
func (m *Mover) back(distance float64) geom.Vec {
	var by geom.Vec
	for i := len(m.Way) - 1; i >= 0; i-- {
		d := m.Way[i].Distance
		if i == 0 {
			d = distance
		}
		by = by.Plus(m.Way[i].Toward.Times(-d))
	}
	return by
}

// path lists the offsets of a mover from where it is drawn to its seat.
func (m *Mover) path(distance float64) []geom.Vec {
	by := m.back(distance)
	list := []geom.Vec{by}
	for i, l := range m.Way {
		d := l.Distance
		if i == 0 {
			d = distance
		}
		by = by.Plus(l.Toward.Times(d))
		list = append(list, by)
	}
	list[len(list)-1] = geom.Vec{}
	return list
}
