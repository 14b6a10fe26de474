package draw

import (
	"math"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
)

// outlineOf is how long the outline of a body is on a picture that shows it alone, in mm.
func outlineOf(p *picture.Picture, width float64) float64 { return total(drawn(stroked(p, width))) }

// The outline of what fills a picture lies on the picture's edge, and is there all round:
// in a picture of a step, in a portrait, and in a locator.
func TestOutlinesAtTheEdge(t *testing.T) {
	ball := modelOf(t, meshtest.Transform(meshtest.Sphere(20, 400, 200), meshtest.Identity, geom.Vec{3, 5, 7}, 1))
	for v := range Views {
		got := ball.Render(&Scene{Still: []int{0}}, Choice{View: v}, -1, page)
		if l, want := outlineOf(got.Picture, oldLine), 40*math.Pi*got.Picture.Scale; math.Abs(l-want) > 0.01*want {
			t.Errorf("view %d: the outline of a ball is %.1f mm, want %.1f", v, l, want)
		}
	}
	for seed := range uint64(kitstest.Rounds(t, 25, 8)) {
		r := random(seed)
		size := geom.Vec{float64(2 + r.IntN(60)), float64(2 + r.IntN(60)), float64(2 + r.IntN(60))}
		s := boxes(t, [2]geom.Vec{{}, size})
		box := newSolid([][2]float64{{0, 0}, {size[0], 0}, {size[0], size[1]}, {0, size[1]}}, size[2], meshtest.Identity, geom.Vec{})
		for v, view := range Views {
			around := func(scale float64) float64 {
				f := frame{view: view, scale: scale}
				outline, _ := groups([]*solid{box}, 0, f, 0)
				return outline.exact
			}
			check := func(what string, got, want float64) {
				if math.Abs(got-want) > 0.4 {
					t.Errorf("%v, view %d, %s: the outline is %.2f mm, want %.2f", size, v, what, got, want)
				}
			}
			got := s.Render(&Scene{Still: []int{0}}, Choice{View: v}, -1, page)
			check("step", outlineOf(got.Picture, oldLine), around(got.Picture.Scale))
			if v == 0 {
				p := s.Portrait([]int{0}, 0.9)
				check("portrait", outlineOf(p, 0.25), around(0.9))
			}
		}
	}
}

// What a locator shows has its outline all round.
func TestOutlinesInTheLocator(t *testing.T) {
	large := newSolid([][2]float64{{-300, -100}, {300, -100}, {300, 100}, {-300, 100}}, 50, meshtest.Identity, geom.Vec{0, 0, -50})
	s := boxes(t, [2]geom.Vec{{-300, -100, -50}, {300, 100, 0}}, [2]geom.Vec{{-1, -1, 0}, {1, 1, 3}})
	for v, view := range Views {
		got := s.Render(&Scene{Still: []int{0}, Onto: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: straight(0, 0, -1)}}}, Choice{View: v}, -1, page)
		if !got.Zoomed {
			t.Fatalf("view %d is not enlarged", v)
		}
		var lines, cut [][]picture.Point
		for _, m := range got.Picture.Marks {
			switch {
			case m.Width == 0.15:
				cut = m.Paths
			case m.Width == 0.12 && cut != nil: // behind the frame of the enlarged part
				lines = m.Paths
			}
		}
		scale := fits(view.boxShadow(s.Bodies[0].Box), inset-locatorGap, cut[0][2][1]-cut[0][0][1])
		outline, _ := groups([]*solid{large}, 0, frame{view: view, scale: scale}, 0)
		if l := total(drawn(lines)); math.Abs(l-outline.exact) > 0.02*outline.exact {
			t.Errorf("view %d: the outline in the locator is %.1f mm, want %.1f", v, l, outline.exact)
		}
	}
}
