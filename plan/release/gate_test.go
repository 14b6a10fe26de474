package release_test

import (
	"math/rand"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/plantest"
	"dryfit/plan/release"
	"dryfit/plan/testprints"
)

const ready = `kit: Box
revision: "1"
licence: For your own prints
contact: a@b.example
parts:
  box: {printed: resin}
  pin: {number: A/1, printed: resin, quantity: 2}
  lid: {printed: resin}
  jig: {printed: filament, class: tooling}
  gauge: {printed: filament, class: tooling}
  screw: {bought: true}
joins:
  - {fit: pin, to: box, with: ca}
  - {fit: screw, to: box, with: screw}
  - {close: [box, lid], with: ca}
`

func shape(t *testing.T, list []mesh.Triangle) *mesh.Mesh {
	t.Helper()
	m, err := mesh.FromTriangles("", list)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func box(t *testing.T, edge float64) *mesh.Mesh {
	return shape(t, meshtest.Box([3]float64{}, [3]float64{edge, edge, edge}))
}

// load is the kit with meshes and good test prints of all, but the gauge, of which there is
// neither.
func load(t *testing.T, text string) *plan.Project {
	t.Helper()
	p := plantest.Check(t, text)
	pin := box(t, 2)
	p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"box": box(t, 10), "pin.1": pin, "pin.2": pin, "lid": box(t, 3), "jig": box(t, 4)}, nil)
	p.Progress = &progress.File{}
	for _, part := range p.Kit.Parts {
		if p.PrintedMesh(part) != nil {
			p.Progress.Tests = append(p.Progress.Tests, &progress.Test{Part: kits.Ref{Name: part.ID}, Date: "2026-03-31", Result: progress.ResultOK, Mesh: testprints.Content(p, part)})
		}
	}
	return p
}

// gate lists the faults of a release in short, and what else there is.
func gate(t *testing.T, p *plan.Project, untested bool) (faults, others []string) {
	t.Helper()
	list, err := release.Gate(t.Context(), p, untested)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		text := f.Kind + " " + f.Piece + ": " + f.Text
		if f.Grade == plan.Fault {
			faults = append(faults, text)
		} else {
			others = append(others, text)
		}
	}
	return faults, others
}

// What is ready goes out, with a caution of tooling without a file.
func TestReady(t *testing.T) {
	faults, others := gate(t, load(t, ready), false)
	if len(faults) > 0 {
		t.Errorf("refused: %q", faults)
	}
	if len(others) != 1 || !strings.HasPrefix(others[0], "release gauge: printed, and without a mesh") {
		t.Errorf("cautions %q", others)
	}
}

// Each refusal by itself.
func TestRefusals(t *testing.T) {
	for name, c := range map[string]struct {
		text  string // of the kit
		spoil func(p *plan.Project)
		want  string
	}{
		"a fault":     {text: kitstest.Replace(t, ready, "  - {close: [box, lid], with: ca}\n", ""), want: "loose"},
		"no licence":  {text: kitstest.Replace(t, ready, "licence: For your own prints\n", ""), want: "the kit states no licence"},
		"no revision": {text: kitstest.Replace(t, ready, "revision: \"1\"\n", ""), want: "the kit states no revision"},
		"no contact":  {text: kitstest.Replace(t, ready, "contact: a@b.example\n", ""), want: "the kit states no contact"},
		"no mesh": {spoil: func(p *plan.Project) {
			p.Meshes = meshtest.Collection(map[string]*mesh.Mesh{"box": p.Meshes.Mesh("box"), "pin.1": p.Meshes.Mesh("pin.1"), "jig": p.Meshes.Mesh("jig")}, nil)
		}, want: "release lid: printed, and without a mesh"},
		"copies that differ": {spoil: func(p *plan.Project) { *p.Meshes.Mesh("pin.2") = *box(t, 5) }, want: "release pin: the copies of pin A/1 differ"},
		"copies of one volume": {spoil: func(p *plan.Project) {
			*p.Meshes.Mesh("pin.2") = *shape(t, meshtest.Box([3]float64{}, [3]float64{1, 2, 4}))
		}, want: "release pin: the copies of pin A/1 differ"},
		"ill tooling": {spoil: func(p *plan.Project) {
			*p.Meshes.Mesh("jig") = *shape(t, meshtest.Box([3]float64{}, [3]float64{4, 4, 4})[1:])
		}, want: "mesh jig: "},
		"never printed": {spoil: func(p *plan.Project) { p.Progress.Tests = p.Progress.Tests[1:] }, want: "release box: never test-printed: 1 part"},
		"changed":       {spoil: func(p *plan.Project) { p.Progress.Tests[2].Mesh = "0123" }, want: "release lid: changed since the last test print: 1 part"},
		"not good":      {spoil: func(p *plan.Project) { p.Progress.Tests[1].Result = "warped" }, want: "release pin: the last test print was not good: 1 part"},
		"no log":        {spoil: func(p *plan.Project) { p.Progress = nil }, want: "release box: never test-printed: 4 parts"},
	} {
		t.Run(name, func(t *testing.T) {
			text := c.text
			if text == "" {
				text = ready
			}
			p := load(t, text)
			if c.spoil != nil {
				// Copies share a mesh until one is spoiled.
				c.spoil(own(p))
			}
			faults, _ := gate(t, p, false)
			if !strings.Contains(strings.Join(faults, "\n"), c.want) {
				t.Errorf("faults %q, want %s", faults, c.want)
			}
			if name != "a fault" && name != "ill tooling" && !strings.HasPrefix(name, "copies") && len(faults) != 1 {
				t.Errorf("%d faults: %q", len(faults), faults)
			}
			faults, others := gate(t, p, true)
			if printed := strings.Contains(c.want, "test print") || strings.Contains(c.want, "test-printed"); printed && len(faults) > 0 {
				t.Errorf("untested parts are still refused: %q", faults)
			} else if !printed && len(faults) == 0 {
				t.Errorf("it goes out without a test print: %q", others)
			}
		})
	}
}

// Copies may be turned in any way.
func TestTurnedCopies(t *testing.T) {
	p := own(load(t, ready))
	turn := meshtest.RandomRotation(rand.New(rand.NewSource(1)))
	*p.Meshes.Mesh("pin.2") = *shape(t, meshtest.Transform(meshtest.Box([3]float64{}, [3]float64{2, 2, 2}), turn, [3]float64{}, 1))
	if faults, _ := gate(t, p, false); len(faults) > 0 {
		t.Errorf("refused: %q", faults)
	}
}

// own gives every piece a mesh of its own.
func own(p *plan.Project) *plan.Project {
	for i, m := range p.Meshes.Pieces {
		one := *m
		p.Meshes.Pieces[i] = &one
	}
	return p
}

// All refusals come at once.
func TestAllAtOnce(t *testing.T) {
	p := load(t, kitstest.Replace(t, ready, "licence: For your own prints\n", "", "contact: a@b.example\n", ""))
	p.Progress = nil
	faults, _ := gate(t, p, false)
	if len(faults) != 3 {
		t.Errorf("%q", faults)
	}
}

// Files are named by number, name and count, and no two are the same on any system.
func TestPartFiles(t *testing.T) {
	p := load(t, kitstest.Replace(t, ready, "  lid: {printed: resin}", "  lid: {name: Pin x2, number: a-1, printed: resin}"))
	got := map[string]string{}
	for _, f := range release.PartFiles(p) {
		got[f.Part.ID] = f.Path
	}
	want := map[string]string{"box": "Main build/resin/1 box", "pin": "Main build/resin/A-1 pin x2", "lid": "Main build/resin/lid", "jig": "Jigs and spares/pla/Z1 jig"}
	for id, path := range want {
		if got[id] != path {
			t.Errorf("%s is %q, want %q", id, got[id], path)
		}
	}
	if len(got) != len(want) {
		t.Errorf("%d files: %q", len(got), got)
	}
}

func TestSafeName(t *testing.T) {
	for text, want := range map[string]string{
		"A1 hull":               "A1 hull",
		" ../../etc/passwd ":    "-..-etc-passwd",
		"a\\b:c*d?e\"f<g>h|i":   "a-b-c-d-e-f-g-h-i",
		"...":                   "unnamed",
		"Größe 5\u00a0mm.":      "Größe 5 mm",
		strings.Repeat("ß", 99): strings.Repeat("ß", 40),
		"Con":                   "-Con",
		"nul":                   "-nul",
		"aux .fine.resin":       "-aux .fine.resin",
		"LPT9.":                 "-LPT9",
		"com¹":                  "-com¹",
		"Comet":                 "Comet",
		"A1 con":                "A1 con",
		"COM10":                 "COM10",
	} {
		if got := release.SafeName(text); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}
