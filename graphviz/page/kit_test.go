package page

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
)

// A kit in a folder, for a page to be made of.
type folder string

func (f folder) file() string   { return filepath.Join(string(f), kits.FileName) }
func (f folder) meshes() string { return filepath.Join(string(f), demo.MeshFolder) }

func (f folder) kit() *kitFile { return newKitFile(string(f), project.Options{}) }

// check loads the kit.
func (f folder) check(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
	return f.kit().load(ctx, read)
}

// always says that files are as they were, for checks that a test runs by itself.
func always() bool { return true }

func (f folder) server(make Maker) *server { return newServer(f.kit(), make) }

// ticked lists what the progress file says is ticked off: ids and old sentences.
func (f folder) ticked(t testing.TB) []string {
	t.Helper()
	p, err := f.kit().ticked()
	if err != nil {
		t.Fatal(err)
	}
	list := slices.Clone(p.Lines)
	for _, tick := range p.Ticked {
		list = append(list, tick.String())
	}
	return list
}

// edit changes the kit file as an editor does on save.
func (f folder) edit(t testing.TB, from, to string) {
	t.Helper()
	text, err := os.ReadFile(f.file())
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(text, []byte(from)) {
		t.Fatalf("the kit file does not say %q", from)
	}
	f.write(t, strings.Replace(string(text), from, to, 1))
}

func (f folder) write(t testing.TB, text string) {
	t.Helper()
	if err := os.WriteFile(f.file(), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

func writeMesh(t testing.TB, file string, list []mesh.Triangle) {
	t.Helper()
	var b bytes.Buffer
	if err := stl.Write(&b, list); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// newKit writes a kit file, and meshes of cubes of 10 mm by the ids of their pieces.
func newKit(t testing.TB, text string, meshes map[string]string) folder {
	t.Helper()
	f := folder(t.TempDir())
	f.write(t, text)
	if len(meshes) == 0 {
		return f
	}
	if err := os.Mkdir(f.meshes(), 0o755); err != nil {
		t.Fatal(err)
	}
	for id, cells := range meshes {
		writeMesh(t, filepath.Join(f.meshes(), id+".stl"), meshtest.Cubes(meshtest.Cells(cells), 10))
	}
	return f
}

// chest is a box with a gem in it, 8 mm wide, under a lid that is glued on, and a handle
// on the lid: 30 mm wide, 40 mm tall.
func chest(t testing.TB, gem string) folder {
	t.Helper()
	f := newKit(t, fmt.Sprintf(chestText, gem), map[string]string{
		"box":    ring(0) + ring(1) + " 110",
		"lid":    ring(2) + " 112",
		"handle": "113",
	})
	small := meshtest.Transform(meshtest.Cubes(meshtest.Cells("111"), 10), meshtest.Identity, [3]float64{3, 3, 2}, 0.8)
	writeMesh(t, filepath.Join(f.meshes(), "gem.stl"), small)
	return f
}

const chestText = `kit: Chest
scale: "1:32"
meshes: parts
parts:
  box: {name: Box, printed: resin}
  gem: {name: Red gem, printed: resin}
  lid: {name: Lid of the box, printed: resin}
  handle: {name: Handle, printed: resin}
joins:
  - {fit: gem, to: box, with: ca%s}
  - {fit: lid, to: box, with: ca}
  - {fit: handle, to: lid, with: ca}
spaces:
  inside: {closed-by: [lid], holds: [gem]}
`

// ring is the cells round the middle one of a layer.
func ring(z int) string {
	var b strings.Builder
	for x := range 3 {
		for y := range 3 {
			if x != 1 || y != 1 {
				fmt.Fprintf(&b, " %d%d%d", x, y, z)
			}
		}
	}
	return b.String()
}

// trapped is the chest with its gem to go in when the lid is on.
func trapped(t testing.TB) folder { return chest(t, ", after: [lid]") }

// demoKit is a copy of the demonstration kit with its meshes, measured already.
func demoKit(t testing.TB) folder { return folder(projecttest.Copy(t)) }

// cleanUp is done when all tests are.
var cleanUp []func()

func TestMain(m *testing.M) {
	code := m.Run()
	for _, f := range slices.Backward(cleanUp) {
		f()
	}
	os.Exit(code)
}
