package draw

import (
	"math"
	"slices"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// view straight down, a pixel for a mm, from the top left corner of what is drawn.
func plan(width, height int) frame {
	return frame{view: View{Ahead: geom.Vec{0, 0, -1}, Right: geom.Vec{1, 0, 0}, Up: geom.Vec{0, -1, 0}}, scale: 1, width: width, height: height}
}

// Of edges much longer than the picture the part in it is drawn, to the pixel.
func TestLinesThroughThePicture(t *testing.T) {
	for seed := range uint64(100) {
		r := random(seed)
		a := 2 * math.Pi * r.Float64()
		reach := math.Pow(10, 2+4*r.Float64())
		s, c := math.Sincos(a)
		x, y := 100*r.Float64(), 80*r.Float64() // a place that the edge goes through
		at := func(along, across, z float64) [3]float32 {
			return [3]float32{float32(x + along*c - across*s), float32(y + along*s + across*c), float32(z)}
		}
		// a triangle that lies beside the edge, far out of the picture with its third corner
		tri := mesh.Triangle{at(-reach, 0, 0), at(reach, 0, 0), at(0, -reach, 0)}
		b := newBuffer(plan(100, 80))
		th := thing{bodyOf(t, []mesh.Triangle{tri}), geom.Vec{}, 1}
		b.add(th)
		in := func(k float64) bool { return k >= 0 && k < 1 }
		want := 0.0
		const step = 0.01
		for k := -150.0; k < 150; k += step {
			if in((x+k*c)/100) && in((y+k*s)/80) {
				want += step
			}
		}
		got := 0.0
		for _, l := range drawn(b.strokes(th).outline) {
			mid := picture.Point{(l.from[0] + l.to[0]) / 2, (l.from[1] + l.to[1]) / 2}
			if math.Abs((mid[0]-x)*-s+(mid[1]-y)*c) < 0.5+1e-6*reach {
				got += l.length()
			}
		}
		if math.Abs(got-want) > 2 {
			t.Errorf("seed %d: %.1f pixels of an edge %.0f long, want %.1f", seed, got, 2*reach, want)
		}
	}
}

// A surface of many triangles is painted without gaps, from the first row to the last.
func TestSurfaceWithoutGaps(t *testing.T) {
	for seed := range uint64(10) {
		r := random(seed)
		list := []mesh.Triangle{{{-900, -500, 0}, {900, -500, 0}, {0, 900, 0}}}
		for len(list) < smallBody {
			list = split(list)
		}
		turn := [3][3]float64{{1, 0, 0.1 * r.NormFloat64()}, {0, 1, 0}, {0.3 * r.NormFloat64(), 0.3 * r.NormFloat64(), 1}}
		list = meshtest.Transform(list, turn, geom.Vec{50 * r.Float64(), 50 * r.Float64(), 0}, 1)
		b := newBuffer(plan(97, 83))
		b.add(thing{bodyOf(t, list), geom.Vec{}, 7})
		if at := slices.IndexFunc(b.id, func(id int32) bool { return id != 7 }); at >= 0 {
			t.Errorf("seed %d: nothing is painted at %d, %d", seed, at%97, at/97)
		}
	}
}

// Two edges that meet outside of the picture are two lines, not one that goes from where
// the one leaves the picture to where the other does.
func TestLinesThatMeetOutside(t *testing.T) {
	corners := mesh.Triangle{{50, -100, 0}, {20, 200, 0}, {80, 200, 0}}
	at := func(c [3]float32) picture.Point { return picture.Point{float64(c[0]), float64(c[1])} }
	sides := []segment{{at(corners[0]), at(corners[1])}, {at(corners[0]), at(corners[2])}}
	for first := range 3 { // edges run from the corner that is named first
		b := newBuffer(plan(100, 80))
		th := thing{bodyOf(t, []mesh.Triangle{{corners[first], corners[(first+1)%3], corners[(first+2)%3]}}), geom.Vec{}, 1}
		b.add(th)
		lines := b.strokes(th).outline
		if p, bad := strayed(drawn(lines), sides, 0.1); bad || len(lines) != 2 {
			t.Errorf("%d lines, one at %v", len(lines), p)
		}
	}
}

// What is inside a closed surface is not seen, not even where one of its triangles is
// turned the wrong way; what is behind a hole is.
func TestLinesOfOpenSurfaces(t *testing.T) {
	cube := meshtest.Cubes(meshtest.Cells("000"), 40)
	for seed := range uint64(40) {
		r := random(seed)
		v := randomView(r)
		turned, open := slices.Clone(cube), slices.Clone(cube)
		k := r.IntN(len(cube))
		turned[k][1], turned[k][2] = turned[k][2], turned[k][1]
		open = slices.Delete(open, k, k+1)
		behind := meshtest.Box(geom.Vec{3, 3, 3}, geom.Vec{37, 37, 37})
		normal := place(cube[k][1]).Minus(place(cube[k][0])).Cross(place(cube[k][2]).Minus(place(cube[k][0])))
		for _, c := range []struct {
			what string
			list []mesh.Triangle
			seen bool
		}{{"closed", cube, false}, {"with a triangle turned", turned, false}, {"with a triangle gone", open, normal.Unit().Dot(v.Ahead) < -0.4}} {
			list := []thing{{bodyOf(t, c.list), geom.Vec{}, 1}, {bodyOf(t, behind), geom.Vec{}, 2}}
			b := newBuffer(frameFor(v, shadows(v, list).grown(2), 300, 300))
			b.add(list...)
			st := b.strokes(list[1])
			got := total(drawn(st.outline)) + total(drawn(st.bends))
			if c.seen && got < 10 || !c.seen && len(c.list) == len(cube) && got > 0 {
				t.Errorf("seed %d, %s: %.0f pixels of what is inside are drawn", seed, c.what, got)
			}
		}
	}
}

func place(c [3]float32) geom.Vec { return geom.Vec{float64(c[0]), float64(c[1]), float64(c[2])} }

// A kit that stands far from the origin is drawn as near it: what is lost is no more than
// the numbers of its mesh lose.
func TestLinesFarAway(t *testing.T) {
	take := func(by geom.Vec) Rendering {
		s := modelOf(t, meshtest.Box(by.Plus(geom.Vec{-20, -20, -10}), by.Plus(geom.Vec{20, 20, 0})), meshtest.Box(by.Plus(geom.Vec{-5, -5, 0}), by.Plus(geom.Vec{5, 5, 10})))
		return s.Render(&Scene{Still: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: straight(0, 0, -1), Label: "1"}}}, Choice{}, -1, page)
	}
	want := take(geom.Vec{})
	for _, far := range []float64{1e3, 1e5, 1e6} {
		got := take(geom.Vec{far, -far, far})
		if math.Abs(got.Seat-want.Seat) > 0.01 || math.Abs(got.New-want.New) > 0.01 {
			t.Errorf("%v mm away: %.2f of the seat and %.2f of the new are seen, want %.2f and %.2f", far, got.Seat, got.New, want.Seat, want.New)
		}
		for _, width := range []float64{NewLine, newBend, oldLine, oldBend} {
			a, b := total(drawn(stroked(got.Picture, width))), total(drawn(stroked(want.Picture, width)))
			if math.Abs(a-b) > 2+0.01*b {
				t.Errorf("%v mm away: %.1f mm of lines of %v mm, want %.1f", far, a, width, b)
			}
		}
	}
}

// stroked are the solid lines of a width.
func stroked(p *picture.Picture, width float64) [][]picture.Point {
	var list [][]picture.Point
	for _, m := range p.Marks {
		if m.Stroke != "" && m.Width == width && m.Dash == nil {
			list = append(list, m.Paths...)
		}
	}
	return list
}

// Edges are drawn by their bend: from 30 degrees on as bends, and the facets of what is
// round not at all.
func TestLinesByBend(t *testing.T) {
	for _, c := range []struct {
		sides int
		want  int // bends of a prism seen from above at a slant, on its visible side
	}{{6, 3}, {11, 5}, {13, 0}, {60, 0}} {
		s := modelOf(t, meshtest.Prism(meshtest.Circle([2]float64{0.1, 0.2}, 20, c.sides), 0, 30))
		list := s.things(false, []int{0}, geom.Vec{})
		v := NewView(33, 20, false)
		b := newBuffer(frameFor(v, shadows(v, list).grown(1), 400, 400))
		b.add(list...)
		upright := 0
		for _, l := range drawn(b.strokes(list[0]).bends) {
			if math.Abs(l.from[0]-l.to[0]) < 1 && l.length() > 50 {
				upright++
			}
		}
		if upright < c.want-1 || upright > c.want {
			t.Errorf("%d sides: %d upright bends, want %d or one less, which is outline", c.sides, upright, c.want)
		}
	}
}
