package draw

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// A small part on a large body is drawn larger, with a frame in a locator beside it that
// shows where it is.
func TestTakeEnlarges(t *testing.T) {
	for _, at := range []geom.Vec{{0, 0, 0}, {290, 95, 0}, {-299, -99, 0}} {
		s := boxes(t, [2]geom.Vec{{-300, -100, -50}, {300, 100, 0}}, [2]geom.Vec{{-1, -1, 0}, {1, 1, 3}})
		s.Bodies[1] = bodyOf(t, meshtest.Box(at, at.Plus(geom.Vec{2, 2, 3})))
		scene := Scene{Still: []int{0}, Onto: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: straight(0, 0, -1), Label: "12"}}}
		got := s.Render(&scene, Choice{View: 1}, -1, page)
		sound(t, "enlarged", got.Picture, page)
		if !got.Zoomed || got.Picture.Scale < 2 {
			t.Errorf("%v: enlarged %v, scale %v", at, got.Zoomed, got.Picture.Scale)
		}
		frames := 0
		for _, m := range got.Picture.Marks {
			if m.Closed && m.Width == 0.45 {
				frames++
				if left := got.Picture.Width - inset; m.Paths[0][0][0] < left || m.Paths[0][1][0]-m.Paths[0][0][0] > inset/2 {
					t.Errorf("%v: the frame of the locator is %v, want it small, and to the right of %v", at, m.Paths[0], left)
				}
			}
		}
		if frames != 1 {
			t.Errorf("%v: %d frames in the locator, want one", at, frames)
		}
		if near := at[0] != 0; longest(got.Picture, 25) != near {
			t.Errorf("%v: long edges of the large body are drawn: %v, want %v", at, !near, near)
		}
	}
	whole := boxes(t, [2]geom.Vec{{0, 0, 0}, {30, 30, 10}}, [2]geom.Vec{{0, 0, 10}, {30, 30, 20}})
	if got := whole.Render(&Scene{Still: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: straight(0, 0, -1)}}}, Choice{}, -1, page); got.Zoomed {
		t.Error("two pieces of a size are enlarged")
	}
}

// A plate so thin that it must be drawn farther off, to show its arrow, that there is
// no room left to enlarge it: the whole is drawn, and it does not claim more.
func TestTakeEnlargesOnlyAPart(t *testing.T) {
	s := boxes(t, [2]geom.Vec{{0, 0, 0}, {63.04, 87.47, 35.62}}, [2]geom.Vec{{10, 10, 35.62}, {35.42, 18.69, 37.7}})
	scene := Scene{Still: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: straight(0, 0, -1)}}}
	for v := 4; v < 8; v++ { // from high above
		for w := 97.0; w <= 137; w += 10 {
			paper := Paper{w, 138.5}
			got := s.Render(&scene, Choice{View: v}, -1, paper)
			sound(t, "a plate", got.Picture, paper)
			widest := 0.0
			for _, m := range got.Picture.Marks {
				if m.Closed && m.Width == 0.45 {
					widest = distance(m.Paths[0][0], m.Paths[0][1])
				}
			}
			if got.Zoomed != (widest > 0) || widest > 0.95*(inset-locatorGap) {
				t.Errorf("view %d, paper %v mm wide: enlarged %v, with a frame round %.1f mm of the locator", v, w, got.Zoomed, widest)
			}
		}
	}
}

// longest reports whether the outlines of what stands still have a line of a length.
func longest(p *picture.Picture, length float64) bool {
	for _, m := range p.Marks {
		if m.Width == oldLine && slices.ContainsFunc(drawn(m.Paths), func(s segment) bool { return s.length() > length }) {
			return true
		}
	}
	return false
}

// The labels of six pieces are all there, apart from each other, from any side.
func TestTakeLabelsSix(t *testing.T) {
	for _, apart := range kitstest.Some(t, 2, []float64{12, 25}) {
		s := boxes(t, [2]geom.Vec{{-60, -40, -10}, {60, 40, 0}})
		scene := Scene{Still: []int{0}, Onto: []int{0}}
		for i := range 6 {
			at := geom.Vec{apart * float64(i%3-1), apart * (float64(i/3) - 0.5), 0}
			s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(at, at.Plus(geom.Vec{6, 6, 10}))))
			scene.Movers = append(scene.Movers, Mover{Pieces: []int{i + 1}, Way: straight(0, 0, -1), Label: fmt.Sprint("pin ", i+1)})
		}
		for v, view := range Views {
			if view.Over() {
				continue // the plate would be in front
			}
			got := s.Render(&scene, Choice{View: v}, -1, page)
			sound(t, "six labels", got.Picture, page)
			boxes := written(got.Picture)
			if len(boxes) != 6 {
				t.Errorf("view %d, %v mm apart: %d labels, want 6", v, apart, len(boxes))
			}
			for i, r := range boxes {
				for _, a := range arrowHeads(got.Picture) {
					if r.x < a[0] && a[0] < r.x+r.w && r.y < a[1] && a[1] < r.y+r.h {
						t.Errorf("view %d, %v mm apart: the label at %.1f covers the arrow at %.1f", v, apart, r, a)
					}
				}
				for _, o := range boxes[:i] {
					if r.overlaps(o) > 0 {
						t.Errorf("view %d, %v mm apart: two labels overlap at %.1f and %.1f", v, apart, r, o)
					}
				}
			}
		}
	}
}

// arrowHeads are the tips of the arrows of a picture.
func arrowHeads(p *picture.Picture) []picture.Point {
	var list []picture.Point
	for _, m := range p.Marks {
		if m.Closed && m.Fill == ink && len(m.Paths[0]) == 3 {
			list = append(list, m.Paths[0][0])
		}
	}
	return list
}

// Copies have one label, that counts them; what the step is about and stands already has
// its own.
func TestTakeCountsLabels(t *testing.T) {
	s := boxes(t, [2]geom.Vec{{-40, -40, -10}, {40, 40, 0}}, [2]geom.Vec{{-20, -5, 0}, {-10, 5, 10}}, [2]geom.Vec{{0, -5, 0}, {10, 5, 10}}, [2]geom.Vec{{20, -5, 0}, {30, 5, 10}})
	down := straight(0, 0, -1)
	got := s.Render(&Scene{Still: []int{0, 3}, Emphasis: []int{3}, Labels: map[int]string{3: "B", 0: "not this"},
		Movers: []Mover{{[]int{1}, down, "A"}, {[]int{2}, down, "A"}}}, Choice{}, -1, page)
	var texts []string
	for _, m := range got.Picture.Marks {
		if m.Text != "" {
			texts = append(texts, m.Text)
		}
	}
	slices.Sort(texts)
	if want := []string{"2 × A", "B"}; !slices.Equal(texts, want) {
		t.Errorf("the labels are %q, want %q", texts, want)
	}
}

// oddities are bodies that a drawing could stumble over.
func oddities(t *testing.T) map[string]*Body {
	list := map[string]*Body{
		"no body":          nil,
		"no triangles":     bodyOf(t, nil),
		"one triangle":     bodyOf(t, []mesh.Triangle{{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}}}),
		"a line":           bodyOf(t, []mesh.Triangle{{{0, 0, 0}, {10, 0, 0}, {5, 0, 0}}}),
		"a point":          bodyOf(t, []mesh.Triangle{{{3, 3, 3}, {3, 3, 3}, {3, 3, 3}}}),
		"a leaf":           bodyOf(t, []mesh.Triangle{{{0, 0, 0}, {10, 0, 0}, {0, 10, 0}}, {{0, 0, 0}, {0, 10, 0}, {10, 0, 0}}}),
		"very thin":        bodyOf(t, meshtest.Box(geom.Vec{0, 0, 0}, geom.Vec{20, 20, 1e-5})),
		"very small":       bodyOf(t, meshtest.Box(geom.Vec{0, 0, 0}, geom.Vec{1e-4, 1e-4, 1e-4})),
		"very large":       bodyOf(t, meshtest.Box(geom.Vec{-1e6, -1e6, -1e6}, geom.Vec{1e6, 1e6, 1e6})),
		"a kilometre away": bodyOf(t, meshtest.Box(geom.Vec{1e6, 1e6, -1e6}, geom.Vec{1e6 + 20, 1e6 + 20, -1e6 + 20})),
		"at the far end":   bodyOf(t, meshtest.Box(geom.Vec{-mesh.MaxCoordinate, 0, 0}, geom.Vec{-mesh.MaxCoordinate + 1e4, 1e4, 1e4})),
		"inside out":       bodyOf(t, meshtest.Inverted(meshtest.Box(geom.Vec{0, 0, 0}, geom.Vec{20, 20, 20}))),
		"a box":            bodyOf(t, meshtest.Box(geom.Vec{0, 0, 0}, geom.Vec{20, 20, 20})),
	}
	return list
}

// Each odd body alone, as what is new, as what stands, as the run of a wire, and beside
// each other one: a picture that is sound, or one of nothing.
func TestTakeOddBodies(t *testing.T) {
	odd := oddities(t)
	var names []string
	for name := range odd {
		names = append(names, name)
	}
	slices.Sort(names)
	small := Paper{60, 45}
	for i, a := range names {
		for j, b := range names {
			s := &Model{Bodies: []*Body{odd[a], odd[b]}}
			r := rand.New(rand.NewPCG(uint64(i), uint64(j)))
			for _, scene := range []Scene{
				{},
				{Still: []int{0, 1}},
				{Movers: []Mover{{Pieces: []int{0, 1}, Label: "no way"}}},
				{Still: []int{1}, Movers: []Mover{{Pieces: []int{0}, Way: straight(0, 0, -1), Label: "1"}}, Onto: []int{1}},
				{Still: []int{0, 1}, Emphasis: []int{0, 1}, Run: []int{0, 1, 0}, Labels: map[int]string{0: "lamp"}},
				{Still: []int{0}, Run: []int{0}, Emphasis: []int{0}},
			} {
				c := Choice{View: r.IntN(len(Views))}
				got := s.Render(&scene, c, r.IntN(len(Views)+1)-1, small)
				sound(t, a+" and "+b, got.Picture, small)
				if got.Seat < 0 || got.Seat > 1 || got.New < 0 || got.New > 1 || math.IsNaN(got.Seat+got.New) {
					t.Errorf("%s and %s: %v of the seat, %v of the new", a, b, got.Seat, got.New)
				}
			}
			both := noBox()
			for _, b := range s.things(false, []int{0, 1}, geom.Vec{}) {
				both = both.and(Views[0].boxShadow(b.body.Box))
			}
			p := s.Portrait([]int{0, 1}, fits(both, 50, 50))
			if (p == nil) != both.empty() {
				t.Errorf("%s and %s: a portrait: %v, want %v", a, b, p != nil, !both.empty())
			}
			if p != nil {
				sound(t, a+" and "+b, p, Paper{52, 52})
			}
		}
	}
}

// Random kits, ways and papers.
func TestTakeIsSound(t *testing.T) {
	for seed := range uint64(150) {
		r := random(seed)
		s := &Model{}
		size := math.Pow(10, 3*r.Float64()-1)
		for range 2 + r.IntN(5) {
			own := size * math.Pow(10, -2*r.Float64())
			at := geom.Vec{size * r.NormFloat64(), size * r.NormFloat64(), size * r.NormFloat64()}
			s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Transform(randomSolid(r, geom.Vec{}).list, meshtest.Identity, at, own/40)))
		}
		scene := Scene{}
		for i := range s.Bodies {
			switch r.IntN(3) {
			case 0:
				m := Mover{Pieces: []int{i}, Label: strings.Repeat("M", r.IntN(12))}
				for range r.IntN(4) {
					m.Way = append(m.Way, geom.Leg{Toward: geom.Vec{r.NormFloat64(), r.NormFloat64(), r.NormFloat64()}.Unit(), Distance: size * r.ExpFloat64()})
				}
				scene.Movers = append(scene.Movers, m)
			case 1:
				scene.Run = append(scene.Run, i)
				scene.Emphasis = append(scene.Emphasis, i)
				fallthrough
			default:
				scene.Still = append(scene.Still, i)
			}
		}
		paper := Paper{70 + 100*r.Float64(), 50 + 100*r.Float64()}
		c := Choice{View: r.IntN(len(Views))}
		got := s.Render(&scene, c, r.IntN(len(Views)), paper)
		sound(t, fmt.Sprint("seed ", seed), got.Picture, paper)
	}
}

// A picture of very many lines is painted, and only what is written over it stays lines.
func TestTakePaintsTooManyLines(t *testing.T) {
	s := &Model{}
	var still []int
	for i := range 3000 {
		at := geom.Vec{float64(i%50) * 6, float64(i/50) * 6, 0}
		s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(at, at.Plus(geom.Vec{4, 4, 4}))))
		still = append(still, i)
	}
	s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(geom.Vec{0, -20, 0}, geom.Vec{300, -10, 4})))
	scene := Scene{Still: still, Movers: []Mover{{Pieces: []int{len(still)}, Way: straight(0, 0, -1), Label: "1"}}}
	got := s.Render(&scene, Choice{View: 4}, -1, page)
	sound(t, "many boxes", got.Picture, page)
	img, err := png.Decode(bytes.NewReader(got.Picture.PNG))
	if err != nil {
		t.Fatalf("%v of %d bytes", err, len(got.Picture.PNG))
	}
	if w, want := img.Bounds().Dx(), got.Picture.Width*picture.PixelsPerMM; math.Abs(float64(w)-want) > 1 {
		t.Errorf("%d pixels wide, want %.0f", w, want)
	}
	dark := 0
	for y := range img.Bounds().Dy() {
		for x := range img.Bounds().Dx() {
			if r, _, _, _ := img.At(x, y).RGBA(); r < 0x8000 {
				dark++
			}
		}
	}
	if share := float64(dark) / float64(img.Bounds().Dx()*img.Bounds().Dy()); share < 0.05 || share > 0.6 {
		t.Errorf("%.3f of the picture is dark", share)
	}
	if len(guides(got.Picture)) != 1 || len(written(got.Picture)) != 1 {
		t.Errorf("%d guide lines and %d labels, want one of each", len(guides(got.Picture)), len(written(got.Picture)))
	}
}
