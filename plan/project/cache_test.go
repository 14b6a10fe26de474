package project

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits/cache"
)

const twoCubes = `v 0 0 0
v 1 0 0
v 0 1 0
v 0 0 1
v 5 0 0
v 6 0 0
v 5 1 0
v 5 0 1
o a
f 1 3 2
f 1 2 4
f 2 3 4
f 3 1 4
o b
f 5 7 6
f 5 6 8
f 6 7 8
f 7 5 8
`

// What is kept is used the next time. An entry that is signed and still no measurements, as
// another state of the program may leave it, is replaced.
func TestKeptMeasurements(t *testing.T) {
	dir := t.TempDir()
	cache.Use(filepath.Join(dir, "cache"))
	t.Cleanup(func() { cache.Use("") })
	file := filepath.Join(dir, "two.obj")
	if err := os.WriteFile(file, []byte(twoCubes), 0o600); err != nil {
		t.Fatal(err)
	}
	survey := func() *Survey {
		t.Helper()
		s, err := SurveyMeshes(context.Background(), file, Options{Warn: func(text string) { t.Error(text) }})
		if err == nil {
			err = s.ExamineWhile(context.Background(), func() error { return nil })
		}
		if err != nil {
			t.Fatal(err)
		}
		s.Store()
		return s
	}
	s := survey()
	good := s.entry().Read()
	if k, err := unpack(good); err != nil || len(k.known.Pieces) != 2 || len(k.health) != 2 {
		t.Fatalf("nothing useful is kept: %v", err)
	}
	for _, bad := range [][]byte{nil, []byte("no measurements"), good[:len(good)/2]} {
		if err := s.entry().Write(bad); err != nil {
			t.Fatal(err)
		}
		survey()
		if !bytes.Equal(s.entry().Read(), good) {
			t.Errorf("%q is not replaced", bad)
		}
	}
	if again := survey(); len(again.known) != 2 {
		t.Error("what is kept is not used")
	}
	files, err := os.ReadDir(dir)
	if err != nil || len(files) != 2 {
		t.Errorf("beside the meshes is more than the cache of this test: %v %v", files, err)
	}
}

// How thick walls are is measured when it is asked for, and is kept with the rest.
func TestWallsWhenAskedFor(t *testing.T) {
	dir := t.TempDir()
	cache.Use(filepath.Join(dir, "cache"))
	t.Cleanup(func() { cache.Use("") })
	file := filepath.Join(dir, "two.obj")
	if err := os.WriteFile(file, []byte(twoCubes), 0o600); err != nil {
		t.Fatal(err)
	}
	for i, c := range []struct{ asked, known bool }{{false, false}, {true, true}, {false, true}} {
		s, err := SurveyMeshes(t.Context(), file, Options{Walls: c.asked})
		if err == nil {
			err = s.ExamineWhile(t.Context(), func() error { return nil })
		}
		if err != nil {
			t.Fatal(err)
		}
		s.Store()
		for p, h := range s.Health {
			if h == nil || h.Walls != c.known || !h.Closed {
				t.Errorf("look %d at piece %d: %+v", i+1, p, h)
			}
		}
	}
}
