package draw

import (
	"bytes"
	"compress/zlib"
	"context"
	"encoding/gob"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
)

// onDisk puts meshes into files, from which they are read each time they are wanted.
func onDisk(t *testing.T, list []*mesh.Mesh) (meshes []*mesh.Mesh, paths []string) {
	t.Helper()
	folder := t.TempDir()
	for i, m := range list {
		triangles := make([]mesh.Triangle, m.Len())
		if _, err := m.Read(0, triangles); err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if err := stl.Write(&b, triangles); err != nil {
			t.Fatal(err)
		}
		file := filepath.Join(folder, fmt.Sprint(i, ".stl"))
		if err := os.WriteFile(file, b.Bytes(), 0o600); err != nil {
			t.Fatal(err)
		}
		read, err := files.Open(file, files.Options{})
		if err != nil {
			t.Fatal(err)
		}
		meshes, paths = append(meshes, read...), append(paths, file)
	}
	return meshes, paths
}

// readBack keeps an album and reads it again.
func readBack(t *testing.T, a *Cache) *Cache {
	t.Helper()
	data, err := a.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	b, err := ReadCache(data)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// An album gives the same pictures as before, and the meshes are not even read: their
// files are gone. What was not asked for again is not kept any longer.
func TestCacheInsteadOfMeshes(t *testing.T) {
	list, scenes := someKit(t)
	meshes, files := onDisk(t, list)
	first := NewRenderer(meshes, NewCache())
	taken, portraits := shoot(t, first, scenes)
	if !first.Cache.Changed() {
		t.Error("pictures were made, and the album says it did not change")
	}
	for _, f := range files {
		if err := os.Remove(f); err != nil {
			t.Fatal(err)
		}
	}
	second := NewRenderer(meshes, readBack(t, first.Cache))
	again, portraitsAgain := shoot(t, second, scenes)
	same(t, "scenes", again, taken)
	same(t, "portraits", portraitsAgain, portraits)
	if second.Cache.Changed() {
		t.Error("nothing was made, and the album says it changed")
	}
	_, err := NewRenderer(meshes, NewCache()).Render(context.Background(), &scenes[0], Choice{}, -1, page)
	if err == nil {
		t.Error("a picture of meshes whose files are gone was made: the test shows nothing")
	}

	third := NewRenderer(meshes, readBack(t, second.Cache))
	if _, err := third.Portrait(context.Background(), []int{0}, 0.8); err != nil {
		t.Error(err)
	}
	if !third.Cache.Changed() {
		t.Error("most pictures are no longer asked for, and the album says it did not change")
	}
	left := readBack(t, third.Cache).was
	if len(left.Renderings) != 0 || len(left.Choices) != 0 || len(left.Portraits) != 1 {
		t.Errorf("%d scenes, %d choices and %d portraits are left, want one portrait", len(left.Renderings), len(left.Choices), len(left.Portraits))
	}
}

// Pieces may have other numbers when the album is read: what was left out is named by
// its new one.
func TestCacheWithOtherNumbers(t *testing.T) {
	cup := meshtest.Pocket([][2]float64{{-30, -20}, {30, -20}, {30, 20}, {-30, 20}}, [][2]float64{{-27, -17}, {27, -17}, {27, 17}, {-27, 17}}, 0, 3, 25)
	var meshes []*mesh.Mesh
	for _, l := range [][]mesh.Triangle{cup, meshtest.Box(geom.Vec{-30, -20, 25}, geom.Vec{30, 20, 28}), meshtest.Box(geom.Vec{-5, -5, 3}, geom.Vec{5, 5, 15})} {
		m, err := mesh.FromTriangles("piece", l)
		if err != nil {
			t.Fatal(err)
		}
		meshes = append(meshes, m)
	}
	ctx := context.Background()
	scene := Scene{Still: []int{0, 1}, Onto: []int{0}, Movers: []Mover{{Pieces: []int{2}, Way: straight(0, 0, -1)}}}
	first := NewRenderer(meshes, NewCache())
	got, err := first.Render(ctx, &scene, Choice{View: 4}, -1, page)
	if err != nil || !slices.Equal(got.Away, []int{1}) {
		t.Fatalf("without %v, want the lid, 1 (%v)", got.Away, err)
	}
	later := Scene{Still: []int{2, 1}, Onto: []int{2}, Movers: []Mover{{Pieces: []int{0}, Way: straight(0, 0, -1)}}}
	meshes = []*mesh.Mesh{meshes[2], meshes[1], meshes[0]}
	again, err := NewRenderer(meshes, readBack(t, first.Cache)).Render(ctx, &later, Choice{View: 4}, -1, page)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "with other numbers", again, got)
}

// Whatever of a scene is changed, its picture is the one that is made without an album.
func TestCacheTellsShotsApart(t *testing.T) {
	meshes, _ := someKit(t)
	base := func() (Scene, Choice, int, Paper) {
		return Scene{Still: []int{0, 4}, Onto: []int{0}, Emphasis: []int{4}, Labels: map[int]string{4: "5"},
			Movers: []Mover{{[]int{1}, straight(0, 0, -1), "2"}, {[]int{2}, straight(0, 0, -1), "3"}}}, Choice{4, []float64{30, 30}}, 3, page
	}
	s := NewRenderer(meshes, NewCache())
	bare := &Model{}
	for _, m := range meshes {
		b, err := NewBody(m, 0)
		if err != nil {
			t.Fatal(err)
		}
		bare.Bodies = append(bare.Bodies, b)
	}
	for i, change := range []func(s *Scene, c *Choice, before *int, p *Paper){
		func(s *Scene, c *Choice, before *int, p *Paper) {},
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Still = []int{0, 3, 4} },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Still = []int{0, 3, 4}; s.Onto = []int{0, 3} },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Emphasis = nil },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Labels[4] = "6" },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Run = []int{1, 4} },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Movers[0].Label = "" },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Movers[0].Way = nil },
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Movers[0].Way = straight(0, -1, 0) },
		func(s *Scene, c *Choice, before *int, p *Paper) {
			s.Movers[0].Way = []geom.Leg{leg(0, 0, -1, 100), leg(0, 1, 0, 5)}
		},
		func(s *Scene, c *Choice, before *int, p *Paper) { s.Movers = s.Movers[:1] },
		func(s *Scene, c *Choice, before *int, p *Paper) {
			s.Movers[0].Pieces = []int{1, 2}
			s.Movers = s.Movers[:1]
		},
		func(s *Scene, c *Choice, before *int, p *Paper) { c.View = 5 },
		func(s *Scene, c *Choice, before *int, p *Paper) { c.Distance[1] = 40 },
		func(s *Scene, c *Choice, before *int, p *Paper) { *before = 4 },
		func(s *Scene, c *Choice, before *int, p *Paper) { *before = 13 },
		func(s *Scene, c *Choice, before *int, p *Paper) { p.Height = 40 },
	} {
		scene, c, before, paper := base()
		change(&scene, &c, &before, &paper)
		got, err := s.Render(context.Background(), &scene, c, before, paper)
		if err != nil {
			t.Fatal(err)
		}
		want := bare.Render(&scene, c, before, paper)
		want.Away = append([]int{}, want.Away...)
		same(t, fmt.Sprint("change ", i), got, want)
	}
	if n := len(s.Cache.is.Renderings); n != 17 {
		t.Errorf("%d pictures, want 17", n)
	}
}

// A mesh that was changed is another picture, even if it begins at the same place.
func TestCacheTellsMeshesApart(t *testing.T) {
	a := NewCache()
	var pictures []*picture.Picture
	for _, height := range []float64{9, 5} {
		m, err := mesh.FromTriangles("box", meshtest.Box(geom.Vec{}, geom.Vec{9, 9, height}))
		if err != nil {
			t.Fatal(err)
		}
		p, err := NewRenderer([]*mesh.Mesh{m}, a).Portrait(context.Background(), []int{0}, 1)
		if err != nil {
			t.Fatal(err)
		}
		pictures = append(pictures, p)
	}
	if pictures[0].Height <= pictures[1].Height {
		t.Errorf("the picture of a lower box is %v mm high, that of a higher one %v", pictures[1].Height, pictures[0].Height)
	}
}

// A kit that has grown so much that it is drawn in less detail, or its views are judged
// in less, gets the pictures that it would get without an album.
func TestCacheOfAKitThatGrew(t *testing.T) {
	meshes, scenes := someKit(t)
	a := NewRenderer(meshes, NewCache())
	was, _ := shoot(t, a, scenes)
	sheet, speck := mesh.Triangle{{-900, -900, -50}, {900, -900, -50}, {0, 900, -50}}, mesh.Triangle{{0, 0, -50}, {1e-3, 0, -50}, {0, 1e-3, -50}}
	large, err := mesh.FromTriangles("sheet", append(slices.Repeat([]mesh.Triangle{speck}, manyTriangles), sheet))
	if err != nil {
		t.Fatal(err)
	}
	meshes = append(meshes, large)
	want, portraits := shoot(t, NewRenderer(meshes, NewCache()), scenes)
	got, portraitsGot := shoot(t, NewRenderer(meshes, readBack(t, a.Cache)), scenes)
	same(t, "scenes", got, want)
	same(t, "portraits", portraitsGot, portraits)
	if reflect.DeepEqual(want, was) {
		t.Error("the pictures are the same in less detail: the test shows nothing")
	}
}

// smallCache is an album of one picture, as it is kept.
func smallCache(t testing.TB) []byte {
	t.Helper()
	m, err := mesh.FromTriangles("box", meshtest.Box(geom.Vec{}, geom.Vec{9, 9, 9}))
	if err != nil {
		t.Fatal(err)
	}
	s := NewRenderer([]*mesh.Mesh{m}, NewCache())
	scene := Scene{Movers: []Mover{{Pieces: []int{0}, Way: straight(0, 0, -1), Label: "1"}}}
	if _, err := s.Choose(context.Background(), []Scene{scene}, -1, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Render(context.Background(), &scene, Choice{}, -1, page); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Portrait(context.Background(), []int{0}, 1); err != nil {
		t.Fatal(err)
	}
	data, err := s.Cache.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// An album that is not whole, to the last byte, is refused; so is one of another version,
// which is still known for an album.
func TestCacheDamaged(t *testing.T) {
	data := smallCache(t)
	if _, err := ReadCache(data); err != nil {
		t.Fatal(err)
	}
	for i := range data {
		if _, err := ReadCache(data[:i]); err == nil {
			t.Errorf("the first %d bytes of %d are an album", i, len(data))
		}
		bad := slices.Clone(data)
		bad[i] ^= 1 << (i % 8)
		if _, err := ReadCache(bad); err == nil {
			t.Errorf("with another byte %d it is still an album", i)
		}
	}
	if _, err := ReadCache(append(slices.Clone(data), 0)); err == nil {
		t.Error("with a byte more it is still an album")
	}
	head := []byte(cacheHead())
	for _, other := range []string{fmt.Sprintf("dryfit pictures %d", cacheVersion+1), fmt.Sprintf("dryfit pictures %d", cacheVersion-1)} {
		old := bytes.Replace(data, head, []byte(other), 1)
		if _, err := ReadCache(old); err == nil {
			t.Errorf("%q is read", other)
		}
	}
	if _, err := ReadCache([]byte("holiday pictures")); err == nil {
		t.Error("what is no album is taken for one")
	}
}

// sealed is an album that is whole but may hold anything.
func sealed(content []byte) []byte {
	var packed bytes.Buffer
	z := zlib.NewWriter(&packed)
	z.Write(content) // to memory: it does not fail
	z.Close()
	s := sum(packed.Bytes())
	return slices.Concat([]byte(cacheHead()+"\n"), s[:], packed.Bytes())
}

// An album is a file beside the kit, and kits are handed on: one made by hand, whole but
// with nonsense in it, must not stop the program.
func TestCacheMadeByHand(t *testing.T) {
	fine := Rendering{Picture: &picture.Picture{}}
	with := func(change func(t *Rendering)) cached {
		t := fine
		change(&t)
		return cached{Renderings: map[string]Rendering{"": t}}
	}
	for what, p := range map[string]cached{
		"no picture":         with(func(t *Rendering) { t.Picture = nil }),
		"a view too many":    with(func(t *Rendering) { t.View = len(Views) }),
		"a view below all":   with(func(t *Rendering) { t.View = -1 }),
		"a piece below all":  with(func(t *Rendering) { t.Away = []int{-1} }),
		"a choice too many":  {Choices: map[string][]Choice{"": {{View: 1}, {View: 99}}}},
		"a distance of none": {Choices: map[string][]Choice{"": {{View: 1, Distance: []float64{math.NaN()}}}}},
		"infinitely far":     {Choices: map[string][]Choice{"": {{View: 1, Distance: []float64{math.Inf(1)}}}}},
	} {
		var b bytes.Buffer
		if err := gob.NewEncoder(&b).Encode(p); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadCache(sealed(b.Bytes())); err == nil {
			t.Errorf("%s: it is taken for an album", what)
		}
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(with(func(*Rendering) {})); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadCache(sealed(b.Bytes())); err != nil {
		t.Errorf("one with nothing wrong: %v", err)
	}
}

// What an album says of a scene that cannot be true of it is not used.
func TestCacheOfAnotherShot(t *testing.T) {
	meshes, scenes := someKit(t)
	s := NewRenderer(meshes, NewCache())
	want, _ := shoot(t, s, scenes)
	bad := readBack(t, s.Cache)
	for k, v := range bad.was.Renderings {
		v.Away = []int{99}
		bad.was.Renderings[k] = v
	}
	for k, v := range bad.was.Choices {
		bad.was.Choices[k] = v[1:]
	}
	got, _ := shoot(t, NewRenderer(meshes, bad), scenes)
	same(t, "with a bad album", got, want)
}

// FuzzReadCache reads anything, as it is and as the content of an album that is whole:
// what is read can be kept and read again.
func FuzzReadCache(f *testing.F) {
	data := smallCache(f)
	f.Add(data)
	f.Add([]byte{})
	at := bytes.IndexByte(data, '\n') + 9
	z, err := zlib.NewReader(bytes.NewReader(data[at:]))
	if err != nil {
		f.Fatal(err)
	}
	var content bytes.Buffer
	if _, err := content.ReadFrom(z); err != nil {
		f.Fatal(err)
	}
	f.Add(content.Bytes())
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, d := range [][]byte{data, sealed(data)} {
			a, err := ReadCache(d)
			if err != nil {
				continue
			}
			a.is = a.was
			if again := readBack(t, a); again.Changed() && len(again.was.Renderings) != len(a.is.Renderings) {
				t.Error("what was read is not what was kept")
			}
		}
	})
}
