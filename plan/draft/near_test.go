package draft_test

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
	"dryfit/plan"
	"dryfit/plan/draft"
	"dryfit/plan/project"
)

// measured writes meshes and measures them; the file is that of a draft beside them.
func measured(t *testing.T, meshes map[string][]mesh.Triangle, o project.Options) (m *draft.Measurement, file string) {
	t.Helper()
	dir := t.TempDir()
	parts := filepath.Join(dir, "parts")
	if err := os.Mkdir(parts, 0o755); err != nil {
		t.Fatal(err)
	}
	for id, list := range meshes {
		var b strings.Builder
		if err := stl.Write(&b, list); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(parts, id+".stl"), []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	m, err := draft.MeasureMeshes(context.Background(), parts, o)
	if err != nil {
		t.Fatal(err)
	}
	return m, filepath.Join(dir, "kit.yaml")
}

func drafted(t *testing.T, m *draft.Measurement, file string) (string, *plan.Project) {
	t.Helper()
	text, p, err := m.Draft(context.Background(), file, "Draft", "parts", "mm", 1)
	if err != nil {
		t.Fatal(err)
	}
	return string(text), p
}

func box(x0, x1, y0, y1, z0, z1 float64) []mesh.Triangle {
	return meshtest.Box([3]float64{x0, y0, z0}, [3]float64{x1, y1, z1})
}

// A peg 0.3 mm above its plate is its neighbour: it is joined, and nothing is said of it.
// With a smaller fit it is loose, and the draft leaves it unjoined and says so.
func TestFit(t *testing.T) {
	meshes := map[string][]mesh.Triangle{"plate": box(0, 60, 0, 60, 0, 5), "peg": box(20, 40, 20, 40, 5.3, 25)}
	m, file := measured(t, meshes, project.Options{})
	text, p := drafted(t, m, file)
	if len(m.Findings) > 0 || len(p.Findings) > 0 || !strings.Contains(text, "{fit: peg, to: plate, toward: [0, 0, -1]}") {
		t.Errorf("findings %v and %v in\n%s", m.Findings, p.Findings, text)
	}
	m, file = measured(t, meshes, project.Options{Fit: 0.1})
	text, p = drafted(t, m, file)
	if len(m.Findings) != 1 || m.Findings[0].Kind != plan.Loose || strings.Contains(text, "fit: peg") || !strings.Contains(text, "# nothing else is within 0.1 mm of peg") {
		t.Errorf("findings %v in\n%s", m.Findings, text)
	}
	if p.OK() || p.Findings[0].Kind != plan.Loose {
		t.Errorf("the draft has the findings %v, want a loose piece", p.Findings)
	}
}

// A piece inside one solid of another is told as such.
func TestEncloses(t *testing.T) {
	shell := meshtest.Merge(box(0, 40, 0, 40, 0, 40), meshtest.Inverted(box(5, 35, 5, 35, 5, 35)))
	m, _ := measured(t, map[string][]mesh.Triangle{"shell": shell, "ball": box(10, 30, 10, 30, 5, 25)}, project.Options{})
	if len(m.Findings) == 0 || !strings.HasPrefix(m.Findings[len(m.Findings)-1].Text, "shell encloses ball: divide shell") {
		t.Errorf("findings %v", m.Findings)
	}
	for _, f := range m.Findings {
		if strings.Contains(f.Text, "are locked") {
			t.Errorf("told twice: %s", f.Text)
		}
	}
}

// Furniture is set down on its floor, no matter how much of it leans against a wall, and
// before the lid is on.
func TestFurniture(t *testing.T) {
	tub := meshtest.Carved(meshtest.Block{Max: [3]float64{100, 60, 50}}, meshtest.Block{Min: [3]float64{2, 2, 2}, Max: [3]float64{98, 58, 51}, Cut: true})
	m, file := measured(t, map[string][]mesh.Triangle{"tub": tub, "lid": box(0, 100, 0, 60, 50, 52),
		"floor": box(2, 98, 2, 58, 2, 4), "cupboard": box(2, 10, 10, 30, 4, 45)}, project.Options{})
	text, p := drafted(t, m, file)
	if !p.OK() {
		t.Fatalf("findings %v in\n%s", p.Findings, text)
	}
	for _, want := range []string{"{fit: cupboard, to: floor, toward: [0, 0, -1]}", "{fit: floor, to: tub, bench: true, toward: [0, 0, -1]}", "{fit: lid, to: tub, toward: [0, 0, -1]}"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
	if i, k := strings.Index(text, "fit: cupboard"), strings.Index(text, "fit: lid"); i > k {
		t.Errorf("the lid goes on before what is under it:\n%s", text)
	}
	if len(m.Steps) != 3 || m.Steps[0].Pieces[0] != "cupboard" {
		t.Errorf("the order told, %v, is not that of the draft", m.Steps)
	}
}
