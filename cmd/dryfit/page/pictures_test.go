package page

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/plan"
)

// TestPictures: they are drawn once, when the first is asked for, and a step that has
// none, or a name that is none, is not found.
func TestPictures(t *testing.T) {
	var a album
	var drawn atomic.Int32
	a = album{rep: &plan.Report{Sequence: &plan.Sequence{}}, meshes: []*mesh.Mesh{}, draw: func(context.Context, *plan.Report, []*mesh.Mesh) (map[int][]byte, error) {
		drawn.Add(1)
		return map[int][]byte{2: []byte("two")}, nil
	}}
	for range 3 {
		if p, err := a.picture(t.Context(), 2); err != nil || string(p) != "two" {
			t.Errorf("%q, %v", p, err)
		}
	}
	if p, err := a.picture(t.Context(), 3); p != nil || err != nil {
		t.Errorf("%q, %v", p, err)
	}
	if drawn.Load() != 1 {
		t.Errorf("drawn %d times", drawn.Load())
	}
	bad := album{rep: a.rep, draw: func(context.Context, *plan.Report, []*mesh.Mesh) (map[int][]byte, error) {
		return nil, errors.New("no")
	}}
	bad.rep, bad.meshes = &plan.Report{Sequence: &plan.Sequence{}}, []*mesh.Mesh{}
	if _, err := bad.picture(t.Context(), 1); err == nil {
		t.Error("an error is lost")
	}
}

func TestPicturesServed(t *testing.T) {
	f := trapped(t)
	s := NewServer(f.check, f.watched, f)
	page, end := serveWith(t, s)
	defer end()
	for _, name := range []string{"picture/1.svg", "picture/x.svg", "picture/", "picture/../index.html"} {
		r, err := http.Get(page + name)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil || r.StatusCode != http.StatusNotFound && r.StatusCode != http.StatusOK {
			t.Errorf("%s: %d %v", name, r.StatusCode, err)
		}
		if strings.Contains(name, "svg") && r.StatusCode == http.StatusOK {
			t.Errorf("%s: %.40s without pictures", name, body)
		}
	}
	if got := string(Standalone([]byte(`<svg role="img"></svg>`))); !strings.HasPrefix(got, pictureStart) || !Ours([]byte(got)) {
		t.Error(got)
	}
}
