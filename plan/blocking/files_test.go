package blocking_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
	"dryfit/plan/blocking"
)

// TestFiles: fixtures that went through files have the relations that they have in
// memory, whichever the format and the unit.
func TestFiles(t *testing.T) {
	for _, f := range kitstest.Some(t, 4, fixtures) {
		c := f.cells(2, poses()[3])
		want := measured(t, blocking.Settings{}, c.triangles()...)
		for _, way := range []struct {
			name string
			read func(t *testing.T, folder string, pieces []meshtest.Object) ([]*mesh.Mesh, error)
		}{
			{"folder of STL", throughSTL},
			{"one OBJ in cm", throughOBJ},
			{"one 3MF in inches", through3MF},
		} {
			t.Run(f.name+", "+way.name, func(t *testing.T) {
				var pieces []meshtest.Object
				for i, list := range c.triangles() {
					pieces = append(pieces, meshtest.Object{Name: fmt.Sprintf("piece-%02d", i), List: list})
				}
				read, err := way.read(t, t.TempDir(), pieces)
				if err != nil {
					t.Fatal(err)
				}
				if len(read) != len(pieces) {
					t.Fatalf("%d pieces read, want %d", len(read), len(pieces))
				}
				for i, m := range read {
					if m.Name != pieces[i].Name {
						t.Errorf("piece %d is called %q, want %q", i, m.Name, pieces[i].Name)
					}
				}
				m, err := blocking.Measure(context.Background(), read, blocking.Settings{})
				if err != nil {
					t.Fatal(err)
				}
				checkFixture(t, m, &f, c)
				for _, d := range axes {
					i, j := along(t, m, c.toModel(d)), along(t, want, c.toModel(d))
					for a := range pieces {
						for b := range pieces {
							if a != b && m.Blocks(a, b, i) != want.Blocks(a, b, j) {
								t.Errorf("%d leaves along %v past %d: %s, in memory %s", a, d, b, relation(m.Blocks(a, b, i)), relation(want.Blocks(a, b, j)))
							}
						}
					}
				}
			})
		}
	}
}

func throughSTL(t *testing.T, folder string, pieces []meshtest.Object) ([]*mesh.Mesh, error) {
	for _, p := range pieces {
		var b bytes.Buffer
		if err := stl.Write(&b, p.List); err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(folder, p.Name+".stl"), b.Bytes())
	}
	return files.OpenFolder(folder, files.Options{})
}

func throughOBJ(t *testing.T, folder string, pieces []meshtest.Object) ([]*mesh.Mesh, error) {
	var b bytes.Buffer
	if err := meshtest.WriteOBJ(&b, scaled(pieces, 0.1)); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "model.obj")
	write(t, file, b.Bytes())
	return files.Open(file, files.Options{Unit: 10})
}

func through3MF(t *testing.T, folder string, pieces []meshtest.Object) ([]*mesh.Mesh, error) {
	var b bytes.Buffer
	if err := meshtest.Write3MF(&b, scaled(pieces, 1/25.4), "inch"); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(folder, "model.3mf")
	write(t, file, b.Bytes())
	return files.Open(file, files.Options{})
}

func scaled(pieces []meshtest.Object, by float64) (out []meshtest.Object) {
	for _, p := range pieces {
		out = append(out, meshtest.Object{Name: p.Name, List: meshtest.Transform(p.List, meshtest.Identity, vec{}, by)})
	}
	return out
}

func write(t *testing.T, file string, content []byte) {
	if err := os.WriteFile(file, content, 0o644); err != nil {
		t.Fatal(err)
	}
}
