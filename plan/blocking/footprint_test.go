package blocking

import (
	"context"
	"math/rand"
	"slices"
	"sync"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// Every stretch of every line lies within what the footprint says of its tile: its ends,
// and its middle between the middles of what lines enter and leave by. That holds for
// large and small triangles, and where a shell is inside out.
func TestFootprintsHoldAllLines(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	for range 4 {
		turn := meshtest.RandomRotation(r)
		place := func(x, y, z float64, list []mesh.Triangle) []mesh.Triangle {
			return meshtest.Transform(list, turn, meshtest.Apply(turn, [3]float64{}, 1, [3]float64{x, y, z}), 1)
		}
		var pieces []*mesh.Mesh
		for _, list := range [][]mesh.Triangle{
			place(0, 0, 0, meshtest.Torus(12, 4, 24, 12)),
			place(5, 5, 5, meshtest.Box([3]float64{}, [3]float64{30, 1, 25})),
			place(-9, 0, 3, meshtest.Sphere(6, 90, 60)),
			place(-20, 0, 3, meshtest.Inverted(meshtest.Sphere(6, 200, 120))),
			meshtest.Merge(place(0, 9, 0, meshtest.Box([3]float64{}, [3]float64{9, 9, 9})),
				place(20, 9, 0, meshtest.Inverted(meshtest.Sphere(4, 16, 8)))),
		} {
			m, err := mesh.FromTriangles("piece", list)
			if err != nil {
				t.Fatal(err)
			}
			pieces = append(pieces, m)
		}
		checkFootprints(t, pieces, geom.Vec{1, 0, 0})
		checkFootprints(t, pieces, geom.Vec{0, 1, -1}.Unit())
		checkFootprints(t, pieces, geom.Vec{1, -1, 1}.Unit())
	}
}

func checkFootprints(t *testing.T, pieces []*mesh.Mesh, along geom.Vec) {
	t.Helper()
	m, err := Measure(context.Background(), pieces, Settings{Pitch: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	checkFootprintsOf(t, m, along)
	kept, _, err := m.observe(context.Background(), along, m.all(), true, nil)
	if err != nil || len(kept) == 0 {
		t.Fatalf("along %v: %d pairs, %v", along, len(kept), err)
	}
	clear(m.workers.kept) // as if they were too large: runs of triangles are added together
	checkFootprintsOf(t, m, along)
	again, _, err := m.observe(context.Background(), along, m.all(), true, nil)
	if err != nil || !slices.Equal(kept, again) {
		t.Errorf("along %v: %v, with triangles kept %v; %v", along, again, kept, err)
	}
}

func checkFootprintsOf(t *testing.T, m *Model, along geom.Vec) {
	t.Helper()
	ctx := context.Background()
	v := newView(along, m.Pitch, m.box(m.all()))
	prints, err := m.footprints(ctx, v, lookSize, m.all(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var lock sync.Mutex
	stretches, outside := 0, 0
	err = m.workers.lines(ctx, v, area{0, 0, v.cols, v.rows}, m.Pieces, m.all(), func(x, y int, col *column) {
		lock.Lock()
		defer lock.Unlock()
		for _, s := range col.stretches {
			stretches++
			e := prints[s.piece].at(x/lookSize, y/lookSize)
			all, twice := e.all(), s.enter+s.leave
			if s.enter < all.low || s.leave > all.high || twice < e.enter.low+e.leave.low || twice > e.enter.high+e.leave.high {
				outside++
			}
		}
	})
	if err != nil || stretches < 1000 || outside > 0 {
		t.Errorf("along %v: %d of %d stretches lie outside of their footprints; %v", along, outside, stretches, err)
	}
}
