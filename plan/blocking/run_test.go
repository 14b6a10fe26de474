package blocking

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Along every fixed axis a run reaches just as far as its corners, and all of its triangles
// face as it says.
func TestRunsHoldTheirTriangles(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	faced := map[facing]int{}
	for range 300 {
		list := patchOfTriangles(r)
		at := runOf(list)
		for _, w := range fixedAxes() {
			scaled := w.Times(7)
			low, high := at.reach(scaled, onFixedAxis(scaled))
			least, most := math.Inf(1), math.Inf(-1)
			for i := range list {
				for _, p := range list[i] {
					d := geom.Point(p).Dot(scaled)
					least, most = min(least, d), max(most, d)
				}
			}
			if low > least || high < most || least-low > 0.001 || high-most > 0.001 {
				t.Fatalf("along %v from %v to %v, corners from %v to %v", w, low, high, least, most)
			}
			side := at.facing(scaled)
			faced[side]++
			for i := range list {
				if cos := normal(&list[i]).Dot(w); side == leaving && cos <= 0 || side == entering && cos >= 0 {
					t.Fatalf("along %v: triangle %v faces %v, its run %v", w, list[i], cos, side)
				}
			}
		}
	}
	if min(faced[entering], faced[leaving], faced[edgeOn]) < 300 {
		t.Errorf("runs that face one way, the other, and both: %v; the test needs many of each", faced)
	}
}

// patchOfTriangles is a patch of a more or less curved surface, anywhere and turned anyhow,
// some of whose triangles are flat.
func patchOfTriangles(r *rand.Rand) []mesh.Triangle {
	var u, v geom.Vec
	for k := range 3 {
		u[k], v[k] = r.NormFloat64(), r.NormFloat64()
	}
	n := u.Cross(v).Unit()
	from := geom.Vec{r.Float64() * 300, r.Float64() * 300, r.Float64() * 300}
	bend := r.Float64() * r.Float64() * 0.3
	at := func(x, y float64) [3]float32 {
		return from.Plus(u.Times(x)).Plus(v.Times(y)).Plus(n.Times(bend * (x*x + y*y))).Single()
	}
	var list []mesh.Triangle
	for x := range 8 {
		for y := range 8 {
			a, b := float64(x), float64(y)
			list = append(list, mesh.Triangle{at(a, b), at(a+1, b), at(a, b+1)}, mesh.Triangle{at(a+1, b), at(a+1, b+1), at(a, b+1)})
		}
	}
	if r.Intn(10) == 0 {
		list[r.Intn(len(list))][1] = list[0][0]
	}
	return list
}
