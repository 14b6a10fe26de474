package project_test

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/project"
)

// A bell inside one closed case: no order and no direction gets it in, and the finding
// says what is meant instead of listing directions.
func TestEnclosed(t *testing.T) {
	bell := meshtest.Box([3]float64{-4, -4, -4}, [3]float64{4, 4, 4})
	room := meshtest.Box([3]float64{-6, -6, -4}, [3]float64{6, 6, 8})
	wall := meshtest.Box([3]float64{-10, -10, -10}, [3]float64{10, 10, 14})
	k := kitOf(t, "kit: Bell\nparts: {fog-case: {printed: filament}, fog-bell: {printed: filament}}\njoins:\n  - {fit: fog-bell, to: fog-case}\n",
		map[string][]mesh.Triangle{"fog-bell": bell, "fog-case": meshtest.Merge(wall, meshtest.Inverted(room))})
	p, err := project.Of(context.Background(), k, project.Options{})
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range p.Findings {
		if f.Kind == plan.Blocked {
			if !holdsAll(f, []string{"fog-case encloses fog-bell", "divide fog-case"}) || len(f.Because) != 1 {
				t.Errorf("%s, because %v, repairs %v", f.Text, f.Because, f.Repairs)
			}
			return
		}
	}
	t.Errorf("nothing is blocked: %+v", p.Findings)
}

// kitOf is a kit in a folder of its own, with these meshes.
func kitOf(t *testing.T, text string, meshes map[string][]mesh.Triangle) *kits.Kit {
	t.Helper()
	dir := t.TempDir()
	if err := os.Mkdir(filepath.Join(dir, demo.MeshFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	for name, list := range meshes {
		write(t, filepath.Join(dir, demo.MeshFolder, name+".stl"), list)
	}
	k, err := kits.Read(filepath.Join(dir, kits.FileName), []byte(text+"meshes: "+demo.MeshFolder+"\n"))
	if err != nil {
		t.Fatal(err)
	}
	return k
}
