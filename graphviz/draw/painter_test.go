package draw

import (
	"math"
	"slices"
	"testing"
	"unicode/utf8"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/mesh/meshtest"
)

// page is the room for a picture in these tests.
var page = Paper{120, 90}

// sound holds all of a picture against what every picture must keep: numbers that are
// numbers, and nothing outside of the paper it says it needs, which is not more than
// there is.
func sound(t *testing.T, what string, p *picture.Picture, paper Paper) {
	t.Helper()
	if !(p.Width > 0 && p.Height > 0 && p.Width <= paper.Width+0.1 && p.Height <= paper.Height+0.1) {
		t.Errorf("%s: the picture is %v x %v mm, on paper of %v", what, p.Width, p.Height, paper)
	}
	for _, m := range p.Marks {
		for _, l := range m.Paths {
			for _, q := range l {
				if !(q[0] >= -0.05 && q[1] >= -0.05 && q[0] <= p.Width+0.05 && q[1] <= p.Height+0.05) {
					t.Errorf("%s: a point at %v of a picture of %v x %v: %+v", what, q, p.Width, p.Height, bare(m))
					return
				}
			}
		}
	}
	for _, r := range written(p) {
		if r.x < 0 || r.y < 0 || r.x+r.w > p.Width || r.y+r.h > p.Height {
			t.Errorf("%s: a label at %.1f of a picture of %v x %v", what, r, p.Width, p.Height)
		}
	}
}

// bare is a mark without its points.
func bare(m picture.Mark) picture.Mark {
	m.Paths = nil
	return m
}

// written are the boxes round the letters of a picture.
func written(p *picture.Picture) []rect {
	var list []rect
	for _, m := range p.Marks {
		if m.Text != "" {
			w := float64(utf8.RuneCountInString(m.Text)) * m.Size * lettersFit
			list = append(list, rect{m.Paths[0][0][0] - w/2, m.Paths[0][0][1] - 0.8*m.Size, w, m.Size})
		}
	}
	return list
}

// closedBox is a cup, its lid, and a peg within.
func closedBox(t *testing.T) *Model {
	cup := meshtest.Pocket([][2]float64{{-30, -20}, {30, -20}, {30, 20}, {-30, 20}}, [][2]float64{{-27, -17}, {27, -17}, {27, 17}, {-27, 17}}, 0, 3, 25)
	return modelOf(t, cup, meshtest.Box(geom.Vec{-30, -20, 25}, geom.Vec{30, 20, 28}), meshtest.Box(geom.Vec{-5, -5, 3}, geom.Vec{5, 5, 15}))
}

// A lid that hides a seat is left out, said to be, and the seat counts as it is then;
// but not if it is what the piece is fitted to.
func TestTakeLeavesOutTheLid(t *testing.T) {
	const cup, lid, peg = 0, 1, 2
	s := closedBox(t)
	movers := []Mover{{Pieces: []int{peg}, Way: straight(0, 0, -1), Label: "3"}}
	for v, view := range Views {
		if view.Name != "high" {
			continue
		}
		got := s.Render(&Scene{Still: []int{cup, lid}, Movers: movers, Onto: []int{cup}}, Choice{View: v}, -1, page)
		if !slices.Equal(got.Away, []int{lid}) {
			t.Errorf("view %d: without %v, want the lid", v, got.Away)
		}
		open := s.Render(&Scene{Still: []int{cup}, Movers: movers, Onto: []int{cup}}, Choice{View: v}, -1, page)
		if len(open.Away) > 0 || got.Seat != open.Seat || got.New != open.New || got.Seat < clearedSeat {
			t.Errorf("view %d: %.3f of the seat and %.3f of the peg, want as without a lid, %.3f and %.3f", v, got.Seat, got.New, open.Seat, open.New)
		}
		shut := s.Render(&Scene{Still: []int{cup, lid}, Movers: movers, Onto: []int{lid, cup}}, Choice{View: v}, -1, page)
		if len(shut.Away) > 0 || shut.Seat > 0.01 {
			t.Errorf("view %d: without %v, %.3f of the seat, want all there and the seat hidden", v, shut.Away, shut.Seat)
		}
	}
}

// Of two that hide a seat the one that hides more is left out, and that is enough; of ten
// lids one over the other no more than a few are.
func TestTakeLeavesOutLittle(t *testing.T) {
	const cup, lid, peg, post = 0, 1, 2, 3
	s := closedBox(t)
	view := View{}
	high := slices.IndexFunc(Views, func(v View) bool { view = v; return v.Name == "high" })
	// A post that stands before a corner of the peg, outside of the cup.
	foot := geom.Vec{5, 5, 15}.Plus(view.Ahead.Times(-60))
	s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(foot.Plus(geom.Vec{-1, -1, -1}), foot.Plus(geom.Vec{2, 2, 2}))))
	movers := []Mover{{Pieces: []int{peg}, Way: straight(0, 0, -1)}}
	got := s.Render(&Scene{Still: []int{post, cup, lid}, Movers: movers, Onto: []int{cup}}, Choice{View: high}, -1, page)
	if !slices.Equal(got.Away, []int{lid}) {
		t.Errorf("without %v, want the lid alone", got.Away)
	}
	scene := Scene{Still: []int{cup, lid}, Movers: movers, Onto: []int{cup}}
	for i := range 10 {
		z := 30 + 2*float64(i)
		s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(geom.Vec{-60, -50, z}, geom.Vec{60, 50, z + 1})))
		scene.Still = append(scene.Still, len(s.Bodies)-1)
	}
	if got := s.Render(&scene, Choice{View: high}, -1, page); len(got.Away) != maxAway || got.Seat > 0 {
		t.Errorf("without %d lids %.2f of the seat is seen, want %d and none", len(got.Away), got.Seat, maxAway)
	}
}

// What the new is fitted to, and what stands out, is never left out; what is left out
// was there; and no more than a few are.
func TestTakeNeverLeavesOutWhatItIsAbout(t *testing.T) {
	left := 0
	for seed := range uint64(30) {
		r := random(seed)
		s := &Model{}
		var still, kept []int
		for i := range 12 {
			at := geom.Vec{30 * r.NormFloat64(), 30 * r.NormFloat64(), 30 * r.NormFloat64()}
			s.Bodies = append(s.Bodies, bodyOf(t, randomSolid(r, at).list))
			still = append(still, i)
			if r.IntN(3) == 0 {
				kept = append(kept, i)
			}
		}
		s.Bodies = append(s.Bodies, bodyOf(t, meshtest.Box(geom.Vec{-5, -5, -5}, geom.Vec{5, 5, 5})))
		scene := Scene{Still: still, Onto: kept[:len(kept)/2], Emphasis: kept[len(kept)/2:], Movers: []Mover{{Pieces: []int{12}, Way: straight(0, 0, -1)}}}
		got := s.Render(&scene, Choice{View: r.IntN(len(Views))}, -1, page)
		for i, p := range got.Away {
			if slices.Contains(kept, p) || !slices.Contains(still, p) || slices.Contains(got.Away[:i], p) {
				t.Errorf("seed %d: without %v, but %v must stay", seed, got.Away, kept)
			}
		}
		if len(got.Away) > maxAway {
			t.Errorf("seed %d: without %d pieces", seed, len(got.Away))
		}
		left += len(got.Away)
		sound(t, "a heap", got.Picture, page)
	}
	if left < 10 {
		t.Errorf("%d pieces left out in all: the test shows nothing", left)
	}
}

// The travels are told as they are, and the drawn ones are as long as they are: of the
// last stretches of a way their own length, at the scale of the picture.
func TestTakeTravels(t *testing.T) {
	s := boxes(t, [2]geom.Vec{{-40, -40, -10}, {40, 40, 0}}, [2]geom.Vec{{-5, -5, 0}, {5, 5, 10}}, [2]geom.Vec{{20, 20, 0}, {25, 25, 10}})
	two := []geom.Leg{leg(0, 0, -1, 60), leg(1, 0, 0, 25)}
	scene := Scene{Still: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: two}, {Pieces: []int{2}, Way: straight(0, 0, -1)}}}
	for v, view := range Views {
		got := s.Render(&scene, Choice{View: v}, -1, page)
		sound(t, view.Name, got.Picture, page)
		if want := []geom.Vec{{0, 0, -1}, {1, 0, 0}, {0, 0, -1}}; !slices.Equal(got.Arrows, want) {
			t.Errorf("view %d: the arrows are %v, want %v", v, got.Arrows, want)
		}
		guides := guides(got.Picture)
		if len(guides) != 2 || len(guides[0]) != 3 || len(guides[1]) != 2 {
			t.Fatalf("view %d: the guide lines are %v", v, guides)
		}
		last := picture.Point{25 * view.Right[0] * got.Picture.Scale, -25 * view.Up[0] * got.Picture.Scale}
		if d := distance(minusPoint(guides[0][2], guides[0][1]), last); d > 0.03 {
			t.Errorf("view %d: the last stretch is %v to %v, want %v", v, guides[0][1], guides[0][2], last)
		}
		if d := minusPoint(guides[0][1], guides[0][0]); math.Abs(d[0]) > 0.03 || d[1]*math.Copysign(1, view.Up[2]) < leastArrow {
			t.Errorf("view %d: the first stretch is %v, want it downwards, long enough for an arrow", v, d)
		}
	}
}

func minusPoint(a, b picture.Point) picture.Point { return picture.Point{a[0] - b[0], a[1] - b[1]} }

// guides are the lines that pieces travel along.
func guides(p *picture.Picture) [][]picture.Point {
	var list [][]picture.Point
	for _, m := range p.Marks {
		if slices.Equal(m.Dash, guideDash) {
			list = append(list, m.Paths...)
		}
	}
	return list
}

// A travel straight away from the eye cannot be drawn as an arrow: a cross in a ring
// stands at the seat.
func TestTakeTravelAlongTheView(t *testing.T) {
	s := boxes(t, [2]geom.Vec{{-40, -40, -10}, {40, 40, 0}}, [2]geom.Vec{{-5, -5, 0}, {5, 5, 10}})
	for v, view := range Views {
		along := []geom.Leg{{Toward: view.Ahead, Distance: 100}}
		got := s.Render(&Scene{Still: []int{0}, Movers: []Mover{{Pieces: []int{1}, Way: along}}}, Choice{View: v}, -1, page)
		sound(t, view.Name, got.Picture, page)
		seat := guides(got.Picture)[0][1]
		crosses, heads := 0, 0
		for _, m := range got.Picture.Marks {
			if len(m.Paths) == 2 && len(m.Paths[0]) == 2 && meetAt(m.Paths[0], seat) && meetAt(m.Paths[1], seat) {
				crosses++
			}
			if m.Closed && m.Fill == ink && len(m.Paths[0]) == 3 {
				heads++
			}
		}
		if crosses != 1 || heads != 0 {
			t.Errorf("view %d: %d crosses and %d arrows, want one cross", v, crosses, heads)
		}
	}
}

// meetAt reports whether a place is the middle of a line.
func meetAt(line []picture.Point, at picture.Point) bool {
	return distance(picture.Point{(line[0][0] + line[1][0]) / 2, (line[0][1] + line[1][1]) / 2}, at) < 0.05
}
