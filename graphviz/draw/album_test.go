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
func readBack(t *testing.T, a *Album) *Album {
	t.Helper()
	data, err := a.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	b, err := ReadAlbum(data)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// An album gives the same pictures as before, and the meshes are not even read: their
// files are gone. What was not asked for again is not kept any longer.
func TestAlbumInsteadOfMeshes(t *testing.T) {
	list, shots := someKit(t)
	meshes, files := onDisk(t, list)
	first := NewStudio(meshes, NewAlbum())
	taken, portraits := shoot(t, first, shots)
	if !first.Album.Changed() {
		t.Error("pictures were made, and the album says it did not change")
	}
	for _, f := range files {
		if err := os.Remove(f); err != nil {
			t.Fatal(err)
		}
	}
	second := NewStudio(meshes, readBack(t, first.Album))
	again, portraitsAgain := shoot(t, second, shots)
	same(t, "shots", again, taken)
	same(t, "portraits", portraitsAgain, portraits)
	if second.Album.Changed() {
		t.Error("nothing was made, and the album says it changed")
	}
	_, err := NewStudio(meshes, NewAlbum()).Take(context.Background(), &shots[0], Chosen{}, -1, page)
	if err == nil {
		t.Error("a picture of meshes whose files are gone was made: the test shows nothing")
	}

	third := NewStudio(meshes, readBack(t, second.Album))
	if _, err := third.Portrait(context.Background(), []int{0}, 0.8); err != nil {
		t.Error(err)
	}
	if !third.Album.Changed() {
		t.Error("most pictures are no longer asked for, and the album says it did not change")
	}
	left := readBack(t, third.Album).was
	if len(left.Takes) != 0 || len(left.Choices) != 0 || len(left.Portraits) != 1 {
		t.Errorf("%d shots, %d choices and %d portraits are left, want one portrait", len(left.Takes), len(left.Choices), len(left.Portraits))
	}
}

// Pieces may have other numbers when the album is read: what was left out is named by
// its new one.
func TestAlbumWithOtherNumbers(t *testing.T) {
	cup := meshtest.Pocket([][2]float64{{-30, -20}, {30, -20}, {30, 20}, {-30, 20}}, [][2]float64{{-27, -17}, {27, -17}, {27, 17}, {-27, 17}}, 0, 3, 25)
	var meshes []*mesh.Mesh
	for _, l := range [][]mesh.Triangle{cup, meshtest.Box(Vector{-30, -20, 25}, Vector{30, 20, 28}), meshtest.Box(Vector{-5, -5, 3}, Vector{5, 5, 15})} {
		m, err := mesh.FromTriangles("piece", l)
		if err != nil {
			t.Fatal(err)
		}
		meshes = append(meshes, m)
	}
	ctx := context.Background()
	shot := Shot{Still: []int{0, 1}, Onto: []int{0}, Movers: []Mover{{Pieces: []int{2}, Way: straight(0, 0, -1)}}}
	first := NewStudio(meshes, NewAlbum())
	got, err := first.Take(ctx, &shot, Chosen{View: 4}, -1, page)
	if err != nil || !slices.Equal(got.Away, []int{1}) {
		t.Fatalf("without %v, want the lid, 1 (%v)", got.Away, err)
	}
	later := Shot{Still: []int{2, 1}, Onto: []int{2}, Movers: []Mover{{Pieces: []int{0}, Way: straight(0, 0, -1)}}}
	meshes = []*mesh.Mesh{meshes[2], meshes[1], meshes[0]}
	again, err := NewStudio(meshes, readBack(t, first.Album)).Take(ctx, &later, Chosen{View: 4}, -1, page)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "with other numbers", again, got)
}

// Whatever of a shot is changed, its picture is the one that is made without an album.
func TestAlbumTellsShotsApart(t *testing.T) {
	meshes, _ := someKit(t)
	base := func() (Shot, Chosen, int, Paper) {
		return Shot{Still: []int{0, 4}, Onto: []int{0}, Emphasis: []int{4}, Labels: map[int]string{4: "5"},
			Movers: []Mover{{[]int{1}, straight(0, 0, -1), "2"}, {[]int{2}, straight(0, 0, -1), "3"}}}, Chosen{4, []float64{30, 30}}, 3, page
	}
	s := NewStudio(meshes, NewAlbum())
	bare := &Stage{}
	for _, m := range meshes {
		b, err := NewBody(m, 0)
		if err != nil {
			t.Fatal(err)
		}
		bare.Bodies = append(bare.Bodies, b)
	}
	for i, change := range []func(s *Shot, c *Chosen, before *int, p *Paper){
		func(s *Shot, c *Chosen, before *int, p *Paper) {},
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Still = []int{0, 3, 4} },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Still = []int{0, 3, 4}; s.Onto = []int{0, 3} },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Emphasis = nil },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Labels[4] = "6" },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Run = []int{1, 4} },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Movers[0].Label = "" },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Movers[0].Way = nil },
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Movers[0].Way = straight(0, -1, 0) },
		func(s *Shot, c *Chosen, before *int, p *Paper) {
			s.Movers[0].Way = []Leg{{Vector{0, 0, -1}, 100}, {Vector{0, 1, 0}, 5}}
		},
		func(s *Shot, c *Chosen, before *int, p *Paper) { s.Movers = s.Movers[:1] },
		func(s *Shot, c *Chosen, before *int, p *Paper) {
			s.Movers[0].Pieces = []int{1, 2}
			s.Movers = s.Movers[:1]
		},
		func(s *Shot, c *Chosen, before *int, p *Paper) { c.View = 5 },
		func(s *Shot, c *Chosen, before *int, p *Paper) { c.Distance[1] = 40 },
		func(s *Shot, c *Chosen, before *int, p *Paper) { *before = 4 },
		func(s *Shot, c *Chosen, before *int, p *Paper) { *before = 13 },
		func(s *Shot, c *Chosen, before *int, p *Paper) { p.Height = 40 },
	} {
		shot, c, before, paper := base()
		change(&shot, &c, &before, &paper)
		got, err := s.Take(context.Background(), &shot, c, before, paper)
		if err != nil {
			t.Fatal(err)
		}
		want := bare.Take(&shot, c, before, paper)
		want.Away = append([]int{}, want.Away...)
		same(t, fmt.Sprint("change ", i), got, want)
	}
	if n := len(s.Album.is.Takes); n != 17 {
		t.Errorf("%d pictures, want 17", n)
	}
}

// A mesh that was changed is another picture, even if it begins at the same place.
func TestAlbumTellsMeshesApart(t *testing.T) {
	a := NewAlbum()
	var pictures []*Picture
	for _, height := range []float64{9, 5} {
		m, err := mesh.FromTriangles("box", meshtest.Box(Vector{}, Vector{9, 9, height}))
		if err != nil {
			t.Fatal(err)
		}
		p, err := NewStudio([]*mesh.Mesh{m}, a).Portrait(context.Background(), []int{0}, 1)
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
func TestAlbumOfAKitThatGrew(t *testing.T) {
	meshes, shots := someKit(t)
	a := NewStudio(meshes, NewAlbum())
	was, _ := shoot(t, a, shots)
	sheet, speck := mesh.Triangle{{-900, -900, -50}, {900, -900, -50}, {0, 900, -50}}, mesh.Triangle{{0, 0, -50}, {1e-3, 0, -50}, {0, 1e-3, -50}}
	large, err := mesh.FromTriangles("sheet", append(slices.Repeat([]mesh.Triangle{speck}, manyTriangles), sheet))
	if err != nil {
		t.Fatal(err)
	}
	meshes = append(meshes, large)
	want, portraits := shoot(t, NewStudio(meshes, NewAlbum()), shots)
	got, portraitsGot := shoot(t, NewStudio(meshes, readBack(t, a.Album)), shots)
	same(t, "shots", got, want)
	same(t, "portraits", portraitsGot, portraits)
	if reflect.DeepEqual(want, was) {
		t.Error("the pictures are the same in less detail: the test shows nothing")
	}
}

// smallAlbum is an album of one picture, as it is kept.
func smallAlbum(t testing.TB) []byte {
	t.Helper()
	m, err := mesh.FromTriangles("box", meshtest.Box(Vector{}, Vector{9, 9, 9}))
	if err != nil {
		t.Fatal(err)
	}
	s := NewStudio([]*mesh.Mesh{m}, NewAlbum())
	shot := Shot{Movers: []Mover{{Pieces: []int{0}, Way: straight(0, 0, -1), Label: "1"}}}
	if _, err := s.Choose(context.Background(), []Shot{shot}, -1, nil); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Take(context.Background(), &shot, Chosen{}, -1, page); err != nil {
		t.Fatal(err)
	}
	if _, err := s.Portrait(context.Background(), []int{0}, 1); err != nil {
		t.Fatal(err)
	}
	data, err := s.Album.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// An album that is not whole, to the last byte, is refused; so is one of another version,
// which is still known for an album.
func TestAlbumDamaged(t *testing.T) {
	data := smallAlbum(t)
	if _, err := ReadAlbum(data); err != nil {
		t.Fatal(err)
	}
	for i := range data {
		if _, err := ReadAlbum(data[:i]); err == nil {
			t.Errorf("the first %d bytes of %d are an album", i, len(data))
		}
		bad := slices.Clone(data)
		bad[i] ^= 1 << (i % 8)
		if _, err := ReadAlbum(bad); err == nil {
			t.Errorf("with another byte %d it is still an album", i)
		}
	}
	if _, err := ReadAlbum(append(slices.Clone(data), 0)); err == nil {
		t.Error("with a byte more it is still an album")
	}
	head := []byte(albumHead())
	for _, other := range []string{fmt.Sprintf("dryfit pictures %d", albumVersion+1), fmt.Sprintf("dryfit pictures %d", albumVersion-1)} {
		old := bytes.Replace(data, head, []byte(other), 1)
		if _, err := ReadAlbum(old); err == nil || !OursAlbum(old) {
			t.Errorf("%q: the error is %v, ours is %v", other, err, OursAlbum(old))
		}
	}
	if OursAlbum([]byte("holiday pictures")) || OursAlbum(nil) {
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
	return slices.Concat([]byte(albumHead()+"\n"), s[:], packed.Bytes())
}

// An album is a file beside the kit, and kits are handed on: one made by hand, whole but
// with nonsense in it, must not stop the program.
func TestAlbumMadeByHand(t *testing.T) {
	fine := Taken{Picture: &Picture{}}
	with := func(change func(t *Taken)) pages {
		t := fine
		change(&t)
		return pages{Takes: map[string]Taken{"": t}}
	}
	for what, p := range map[string]pages{
		"no picture":         with(func(t *Taken) { t.Picture = nil }),
		"a view too many":    with(func(t *Taken) { t.View = len(Views) }),
		"a view below all":   with(func(t *Taken) { t.View = -1 }),
		"a piece below all":  with(func(t *Taken) { t.Away = []int{-1} }),
		"a choice too many":  {Choices: map[string][]Chosen{"": {{View: 1}, {View: 99}}}},
		"a distance of none": {Choices: map[string][]Chosen{"": {{View: 1, Distance: []float64{math.NaN()}}}}},
		"infinitely far":     {Choices: map[string][]Chosen{"": {{View: 1, Distance: []float64{math.Inf(1)}}}}},
	} {
		var b bytes.Buffer
		if err := gob.NewEncoder(&b).Encode(p); err != nil {
			t.Fatal(err)
		}
		if _, err := ReadAlbum(sealed(b.Bytes())); err == nil {
			t.Errorf("%s: it is taken for an album", what)
		}
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(with(func(*Taken) {})); err != nil {
		t.Fatal(err)
	}
	if _, err := ReadAlbum(sealed(b.Bytes())); err != nil {
		t.Errorf("one with nothing wrong: %v", err)
	}
}

// What an album says of a shot that cannot be true of it is not used.
func TestAlbumOfAnotherShot(t *testing.T) {
	meshes, shots := someKit(t)
	s := NewStudio(meshes, NewAlbum())
	want, _ := shoot(t, s, shots)
	bad := readBack(t, s.Album)
	for k, v := range bad.was.Takes {
		v.Away = []int{99}
		bad.was.Takes[k] = v
	}
	for k, v := range bad.was.Choices {
		bad.was.Choices[k] = v[1:]
	}
	got, _ := shoot(t, NewStudio(meshes, bad), shots)
	same(t, "with a bad album", got, want)
}

// FuzzReadAlbum reads anything, as it is and as the content of an album that is whole:
// what is read can be kept and read again.
func FuzzReadAlbum(f *testing.F) {
	data := smallAlbum(f)
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
			a, err := ReadAlbum(d)
			if err != nil {
				continue
			}
			a.is = a.was
			if again := readBack(t, a); again.Changed() && len(again.was.Takes) != len(a.is.Takes) {
				t.Error("what was read is not what was kept")
			}
		}
	})
}
