package rescale_test

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/stl"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
	"dryfit/plan/rehearse"
)

// agreeScales are those at which rescaling a kit and checking what it writes must agree.
var agreeScales = []string{"1:24", "1:28", "1:35", "1:40", "1:48"}

// A chest at 1:32 with what scales and what does not: a battery under a hatch, a magnet in a
// pocket, a drawer, and a lead through a hole.
const chest = `kit: Chest
scale: "1:32"
meshes: parts
clearance: 0.5
parts:
  body: {printed: resin, orient: [1, 0, 0]}
  lid: {printed: resin}
  tray: {printed: filament, fill: 20%}
  battery: {bought: true, fixed-size: true, size: [20, 10, 10], mass: 20}
  magnet: {bought: true, fixed-size: true, size: [5, 2, 5], mass: 0.3}
  shot: {bought: true, fixed-size: true, size: [8, 8, 6], mass: 4}
joins:
  - {fit: tray, to: body, with: ca}
  - {fit: battery, to: tray, with: loose}
  - {fit: shot, to: tray, with: ca}
  - {fit: magnet, to: body, with: ca}
  - {fit: lid, to: body, with: press}
spaces:
  inside: {closed-by: [{piece: lid, opening: [50, 30], facing: z}], holds: [tray, battery, shot]}
balance: {along: x, support: 34, margin: 1, ballast: shot, room: 2}
magnets:
  - {magnet: magnet, north: [0, 0, 1], pocket: [5.2, 2.2]}
printers:
  low: {process: resin, volume: [100, 100, 66]}
  large: {process: resin, volume: [120, 120, 120]}
  other: {process: filament, volume: [100, 100, 100]}
`

// chestShapes are its meshes: the tray stands on the floor of the body, the others on it.
func chestShapes() map[string][]mesh.Triangle {
	box := func(x0, y0, z0, x1, y1, z1 float64) []mesh.Triangle {
		return meshtest.Box([3]float64{x0, y0, z0}, [3]float64{x1, y1, z1})
	}
	ring := func(x0, y0, x1, y1 float64) [][2]float64 { return [][2]float64{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}} }
	return map[string][]mesh.Triangle{
		"body": meshtest.Pocket(ring(0, 0, 60, 40), ring(5, 5, 55, 35), 0, 3, 30),
		"lid":  box(0, 0, 30, 60, 40, 33),
		"tray": box(8, 8, 3, 52, 32, 5), "battery": box(28, 15, 5, 48, 25, 15), "shot": box(10, 12, 5, 18, 20, 11),
		"magnet": box(25, -2, 10, 30, 0, 15),
	}
}

// What rescaling finds agrees with a check of the kit that it writes, with meshes scaled by
// a program of its own: the order, and which pieces are at fault.
func TestAgreesWithCheck(t *testing.T) {
	folder := t.TempDir()
	writeKit(t, folder, []byte(chest), chestShapes())
	was, err := project.Load(t.Context(), folder, project.Options{Walls: true})
	if err != nil {
		t.Fatal(err)
	}
	if !was.OK() {
		t.Fatalf("the chest has faults: %+v", was.Findings)
	}
	for _, scale := range agreeScales {
		t.Run(scale, func(t *testing.T) { agree(t, was, []byte(chest), scale) })
	}
}

// The same of the demonstration kit.
func TestDemonstrationAgreesWithCheck(t *testing.T) {
	kitstest.Repeats(t, "TestAgreesWithCheck")
	was := projecttest.Load(t)
	for _, scale := range agreeScales {
		t.Run(scale, func(t *testing.T) { agree(t, was, demo.KitWithMeshes(), scale) })
	}
}

func agree(t *testing.T, was *plan.Project, text []byte, scale string) {
	t.Helper()
	r := rescaled(t, was, text, scale)
	written, err := kits.Rewrite("kit.yaml", text, r.Scaling)
	if err != nil {
		t.Fatal(err)
	}
	shapes, moves := map[string][]mesh.Triangle{}, map[string]*geom.Vec{}
	for _, m := range r.Moves() {
		moves[r.Kit.Pieces[m.Piece].ID] = &m.By
	}
	aside, err := was.Kit.Aside()
	if err != nil {
		t.Fatal(err)
	}
	for _, pc := range slices.Concat(was.Kit.Pieces, aside) {
		if m := was.Meshes.Mesh(pc.ID); m != nil {
			shapes[pc.ID] = scaledBy(meshtest.Triangles(t, m), r.Scaling.Factor, moves[pc.ID])
		}
	}
	folder := t.TempDir()
	writeKit(t, folder, written, shapes)
	is, err := project.Load(t.Context(), folder, project.Options{Walls: true})
	if err != nil {
		t.Fatal(err)
	}
	if r.OK() {
		// Contacts are measured anew, so that a person would choose another order; the one of
		// rescale must hold.
		walked := rehearse.Walk(is.Kit, is.Constraints.Geometry, is.Constraints.Steps, rehearse.Actions(r.Now.Sequence.Order))
		if !walked.OK() {
			t.Errorf("the order of rescale does not hold: %+v", walked)
		}
	}
	faulty := faultyPieces(r.Findings)
	for _, f := range is.Findings {
		if f.Kind == plan.Blocked || f.Kind == plan.Trapped {
			continue // what no longer fits its place is in the way of others
		}
		if f.Grade == plan.Fault && !slices.ContainsFunc(piecesOf(f), func(id string) bool { return faulty[id] }) {
			t.Errorf("check finds a fault that rescale does not: %s %v: %s", f.Kind, piecesOf(f), f.Text)
		}
	}
	known := map[plan.Subject]bool{}
	for _, f := range is.Findings {
		known[f.Subject()] = true
	}
	for _, f := range r.Now.Findings {
		if f.Grade == plan.Fault && !known[f.Subject()] {
			t.Errorf("rescale finds a fault that check does not: %s %v: %s", f.Kind, piecesOf(f), f.Text)
		}
	}
	if r.OK() && !is.OK() {
		t.Error("rescale says that nothing breaks, and check finds faults")
	}
	agreeOnPrinting(t, r, is)
}

// faultyPieces are the ids that faults name, and those of the parts of copies.
func faultyPieces(list []plan.Finding) map[string]bool {
	ids := map[string]bool{}
	for _, f := range list {
		if f.Grade == plan.Fault {
			for _, id := range piecesOf(f) {
				ids[id] = true
			}
		}
	}
	return ids
}

// piecesOf are the parts that a finding names.
func piecesOf(f plan.Finding) []string {
	var list []string
	for _, id := range append([]string{f.Piece}, f.Pieces...) {
		part, _, _ := strings.Cut(id, ".")
		list = append(list, part)
	}
	return list
}

// scaledBy scales triangles, or moves what keeps its size.
func scaledBy(list []mesh.Triangle, f float64, move *geom.Vec) []mesh.Triangle {
	out := make([]mesh.Triangle, len(list))
	for i, tr := range list {
		for c, p := range tr {
			for k, v := range p {
				out[i][c][k] = float32(float64(v) * f)
				if move != nil {
					out[i][c][k] = float32(float64(v) + move[k])
				}
			}
		}
	}
	return out
}

func writeKit(t *testing.T, folder string, text []byte, shapes map[string][]mesh.Triangle) {
	t.Helper()
	if err := os.MkdirAll(filepath.Join(folder, demo.MeshFolder), 0o755); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(folder, kits.FileName), text, 0o644); err != nil {
		t.Fatal(err)
	}
	for id, list := range shapes {
		f, err := os.Create(filepath.Join(folder, demo.MeshFolder, id+".stl"))
		if err != nil {
			t.Fatal(err)
		}
		if err := stl.Write(f, list); err != nil {
			t.Fatal(err)
		}
		if err := f.Close(); err != nil {
			t.Fatal(err)
		}
	}
}
