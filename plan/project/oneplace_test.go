package project_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
)

// A thousand copies in one place are one fault, and the two pieces beside them are
// measured as if alone.
func TestOnePlace(t *testing.T) {
	objects := []meshtest.Object{
		{Name: "plate", List: meshtest.Box([3]float64{50, 0, 0}, [3]float64{80, 30, 3})},
		{Name: "block", List: meshtest.Box([3]float64{60, 10, 3}, [3]float64{70, 20, 13})},
	}
	for i := range 1000 {
		objects = append(objects, meshtest.Object{Name: fmt.Sprint("cube-", i+1), List: meshtest.Box([3]float64{}, [3]float64{10, 10, 10})})
	}
	file := filepath.Join(t.TempDir(), "heap.3mf")
	f, err := os.Create(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := meshtest.Write3MF(f, objects, "millimeter"); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	s, err := project.SurveyMeshes(t.Context(), file, project.Options{Fresh: true})
	if err != nil {
		t.Fatal(err)
	}
	list := s.MeshFindings(true)
	if len(list) != 1 || list[0].Kind != plan.OnePlace || list[0].Grade != plan.Fault || len(list[0].Pieces) != 1000 ||
		!holdsAll(list[0], []string{"1000 pieces stand in the same place", "at the origin?", "cube-1, cube-2"}) {
		t.Errorf("%d findings: %.300s", len(list), fmt.Sprint(list))
	}
	if p := s.Model.Pairs; len(p) != 1 || p[0].A != 0 || p[0].B != 1 || p[0].Contact < 90 {
		t.Errorf("%d pairs: %.300s", len(p), fmt.Sprint(p))
	}
	if !s.Measured(0) || !s.Measured(1) || s.Measured(2) {
		t.Error("what was measured is wrong")
	}
}

// The demonstration kit with every part about its own origin says so, and little else.
func TestExportedAtTheOrigin(t *testing.T) {
	if testing.Short() {
		t.Skip("examines the demonstration kit")
	}
	for _, origin := range kitstest.Some(t, 3, []struct {
		name string
		of   func(geom.Box) geom.Vec
	}{
		{"the middle underneath", func(b geom.Box) geom.Vec { c := b.Centre(); c[2] = b.Min[2]; return c }},
		{"the lowest corner", func(b geom.Box) geom.Vec { return b.Min }},
		{"the centre", geom.Box.Centre},
	}) {
		dir := projecttest.Copy(t)
		n := 0
		for _, p := range demo.Meshes() {
			file := filepath.Join(dir, demo.MeshFolder, p.ID+".stl")
			if _, err := os.Stat(file); err != nil {
				continue
			}
			m, err := mesh.FromTriangles(p.ID, p.Triangles)
			if err != nil {
				t.Fatal(err)
			}
			at := origin.of(m.Box)
			write(t, file, moved(-at[0], -at[1], -at[2])(p.Triangles))
			n++
		}
		k, err := kits.ReadFile(dir)
		if err != nil {
			t.Fatal(err)
		}
		p, err := project.Of(context.Background(), k, project.Options{})
		if err != nil {
			t.Fatal(err)
		}
		faults := 0
		for _, f := range p.Findings {
			if f.Grade != plan.Fault {
				continue
			}
			if faults++; f.Kind != plan.OnePlace || len(f.Pieces) != n {
				t.Errorf("%s: %s, of %d pieces, want %d: %.200s", origin.name, f.Kind, len(f.Pieces), n, f.Text)
			}
		}
		if faults != 1 {
			t.Errorf("%s: %d faults", origin.name, faults)
		}
	}
}
