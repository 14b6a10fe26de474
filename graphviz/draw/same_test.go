package draw

import (
	"context"
	"fmt"
	"reflect"
	"runtime"
	"sync"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// someKit is a few pieces, of which some have so many triangles that the work on them is
// shared, and scenes of them.
func someKit(t *testing.T) ([]*mesh.Mesh, []Scene) {
	t.Helper()
	var list []*mesh.Mesh
	add := func(name string, triangles []mesh.Triangle) {
		m, err := mesh.FromTriangles(name, triangles)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, m)
	}
	add("base", meshtest.Pocket([][2]float64{{-40, -30}, {40, -30}, {40, 30}, {-40, 30}}, [][2]float64{{-37, -27}, {37, -27}, {37, 27}, {-37, 27}}, 0, 3, 25))
	add("ball", meshtest.Transform(meshtest.Sphere(10, 160, 80), meshtest.Identity, geom.Vec{-15, 0, 13}, 1))
	add("ring", meshtest.Transform(meshtest.Torus(10, 3, 200, 60), meshtest.Identity, geom.Vec{15, 0, 6}, 1))
	add("lid", meshtest.Box(geom.Vec{-40, -30, 25}, geom.Vec{40, 30, 28}))
	add("knob", meshtest.Transform(meshtest.Cylinder(2, 28, 34, 24), meshtest.Identity, geom.Vec{30, 20, 0}, 1))
	down := straight(0, 0, -1)
	return list, []Scene{
		{Still: []int{0}, Onto: []int{0}, Movers: []Mover{{[]int{1}, down, "2"}, {[]int{2}, down, "3"}}},
		{Still: []int{0, 1, 2}, Onto: []int{0}, Movers: []Mover{{[]int{3}, down, "4"}}},
		{Still: []int{0, 1, 2, 3}, Onto: []int{3}, Movers: []Mover{{[]int{4}, []geom.Leg{leg(0, -1, 0, 40), leg(0, 0, -1, 8)}, "5"}}},
		{Still: []int{0, 1, 2, 3, 4}, Emphasis: []int{1, 4}, Run: []int{1, 3, 4}, Labels: map[int]string{1: "2", 4: "5"}},
	}
}

// shoot chooses views for scenes and takes them, and a portrait of each piece.
func shoot(t *testing.T, s *Renderer, scenes []Scene) (taken []Rendering, portraits []*picture.Picture) {
	t.Helper()
	ctx := context.Background()
	chosen, err := s.Choose(ctx, scenes, -1, nil)
	if err != nil {
		t.Fatal(err)
	}
	before := -1
	for i := range scenes {
		got, err := s.Render(ctx, &scenes[i], chosen[i], before, page)
		if err != nil {
			t.Fatal(err)
		}
		taken, before = append(taken, got), chosen[i].View
	}
	for i := range s.meshes {
		p, err := s.Portrait(ctx, []int{i}, 0.8)
		if err != nil {
			t.Fatal(err)
		}
		portraits = append(portraits, p)
	}
	return taken, portraits
}

// The pictures are the same however many workers share the work, and when made again.
func TestPicturesAreTheSame(t *testing.T) {
	meshes, scenes := someKit(t)
	large := 0
	for _, m := range meshes {
		if m.Len() > smallBody {
			large++
		}
	}
	if large < 2 {
		t.Fatal("no work would be shared")
	}
	before := runtime.GOMAXPROCS(1)
	defer runtime.GOMAXPROCS(before)
	first, faces := shoot(t, NewRenderer(meshes, NewCache()), scenes)
	for _, workers := range kitstest.Some(t, 2, []int{1, 2, 4}) {
		runtime.GOMAXPROCS(workers)
		again, facesAgain := shoot(t, NewRenderer(meshes, NewCache()), scenes)
		for i := range first {
			same(t, fmt.Sprintf("scene %d with %d workers", i, workers), again[i], first[i])
		}
		for i := range faces {
			same(t, fmt.Sprintf("portrait %d with %d workers", i, workers), facesAgain[i], faces[i])
		}
	}
}

func same(t *testing.T, what string, got, want any) {
	t.Helper()
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%s: another picture than before", what)
	}
}

// Pictures taken at the same time are those taken one by one.
func TestPicturesAtTheSameTime(t *testing.T) {
	meshes, scenes := someKit(t)
	first := NewRenderer(meshes, NewCache())
	want, _ := shoot(t, first, scenes)
	chosen, err := first.Choose(context.Background(), scenes, -1, nil)
	if err != nil {
		t.Fatal(err)
	}
	s := NewRenderer(meshes, NewCache())
	got := make([]Rendering, len(want))
	var all sync.WaitGroup
	for i := range scenes {
		before := -1
		if i > 0 {
			before = want[i-1].View
		}
		all.Go(func() {
			var err error
			if got[i], err = s.Render(context.Background(), &scenes[i], chosen[i], before, page); err != nil {
				t.Error(err)
			}
		})
	}
	all.Wait()
	same(t, "all scenes", got, want)
}
