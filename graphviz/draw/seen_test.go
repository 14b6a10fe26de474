package draw

import (
	"math"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// meets is how far along a ray a triangle is: Moeller and Trumbore, "Fast, minimum
// storage ray/triangle intersection", Journal of Graphics Tools 2 (1997).
func meets(from, along geom.Vec, t mesh.Triangle) (float64, bool) {
	var c [3]geom.Vec
	for i := range t {
		c[i] = geom.Vec{float64(t[i][0]), float64(t[i][1]), float64(t[i][2])}
	}
	e1, e2 := c[1].Minus(c[0]), c[2].Minus(c[0])
	p := along.Cross(e2)
	det := e1.Dot(p)
	if math.Abs(det) < 1e-12 {
		return 0, false
	}
	to := from.Minus(c[0])
	u := to.Dot(p) / det
	q := to.Cross(e1)
	v := along.Dot(q) / det
	if u < 0 || v < 0 || u+v > 1 {
		return 0, false
	}
	return e2.Dot(q) / det, true
}

// nearest is how far along a ray the first of some surfaces is.
func nearest(from, along geom.Vec, lists ...[]mesh.Triangle) float64 {
	near := math.Inf(1)
	for _, list := range lists {
		for _, t := range list {
			if d, ok := meets(from, along, t); ok {
				near = min(near, d)
			}
		}
	}
	return near
}

// uncoveredByRays is the share of rays that meet a surface before they meet any other,
// or less than some slack behind it, of those that meet it at all.
func uncoveredByRays(v View, list []mesh.Triangle, others [][]mesh.Triangle, slack float64) (share float64, rays int) {
	shadow := noBox()
	for _, t := range list {
		for _, c := range t {
			p := geom.Vec{float64(c[0]), float64(c[1]), float64(c[2])}
			shadow = shadow.with(p.Dot(v.Right), -p.Dot(v.Up))
		}
	}
	const n = 40
	free := 0
	for i := range n * n {
		x := shadow.x0 + shadow.width()*(float64(i%n)+0.5)/n
		y := shadow.y0 + shadow.height()*(float64(i/n)+0.5)/n
		from := v.Right.Times(x).Plus(v.Up.Times(-y)).Plus(v.Ahead.Times(-1000))
		own := nearest(from, v.Ahead, list)
		if math.IsInf(own, 1) {
			continue
		}
		rays++
		if nearest(from, v.Ahead, others...) >= own-slack {
			free++
		}
	}
	return float64(free) / float64(max(rays, 1)), rays
}

// What Take says of how much can be seen, of the worst piece, is what rays say.
func TestTakeMeasuresWhatRaysSee(t *testing.T) {
	compared, hidden := 0, 0
	for seed := range uint64(40) {
		r := random(seed)
		s := &Model{}
		var lists [][]mesh.Triangle
		scene := Scene{}
		for i := range 7 {
			list := randomSolid(r, geom.Vec{40 * r.NormFloat64(), 40 * r.NormFloat64(), 40 * r.NormFloat64()}).list
			lists, s.Bodies = append(lists, list), append(s.Bodies, bodyOf(t, list))
			if i > r.IntN(2) {
				scene.Still = append(scene.Still, i)
				continue
			}
			scene.Movers = append(scene.Movers, Mover{Pieces: []int{i}, Way: straight(0, 0, -1)})
		}
		v := r.IntN(len(Views))
		got := s.Render(&scene, Choice{View: v}, -1, page)
		gone := map[int]bool{}
		for _, p := range got.Away {
			gone[p] = true
		}
		var still [][]mesh.Triangle
		for _, p := range scene.Still {
			if !gone[p] {
				still = append(still, lists[p])
			}
		}
		slack := behind / (got.Picture.Scale * resolution)
		seat, news, fewest := 1.0, 1.0, math.MaxInt
		for i, m := range scene.Movers {
			list := lists[m.Pieces[0]]
			line := guides(got.Picture)[i]
			far := distance(line[0], line[1]) / got.Picture.Scale / math.Hypot(Views[v].Right[2], Views[v].Up[2])
			share, rays := uncoveredByRays(Views[v], list, still, slack)
			seat, fewest = min(seat, share), min(fewest, rays)
			share, rays = uncoveredByRays(Views[v], meshtest.Transform(list, meshtest.Identity, geom.Vec{0, 0, far}, 1), still, slack)
			news, fewest = min(news, share), min(fewest, rays)
		}
		if fewest < 500 {
			continue
		}
		compared++
		if seat < 0.9 {
			hidden++
		}
		if math.Abs(got.Seat-seat) > 0.05 || math.Abs(got.New-news) > 0.05 {
			t.Errorf("seed %d, view %d: %.3f of the seat and %.3f of the new, but rays say %.3f and %.3f", seed, v, got.Seat, got.New, seat, news)
		}
	}
	if compared < 20 || hidden < 5 {
		t.Errorf("%d scenes compared, %d of them with a hidden seat: the test shows little", compared, hidden)
	}
}
