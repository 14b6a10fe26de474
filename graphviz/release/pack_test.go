package release_test

import (
	"archive/zip"
	"bytes"
	"crypto/sha256"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"dryfit/graphviz/release"
	"dryfit/kits"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/progress"
	"dryfit/plan"
	"dryfit/plan/plantest"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
	"dryfit/plan/testprints"
)

// tested is the demonstration kit with good test prints of all that it prints.
func tested(t *testing.T) (*plan.Project, []byte) {
	t.Helper()
	p := projecttest.Load(t)
	p.Progress = &progress.File{}
	for _, part := range p.Kit.Parts {
		if part.ToPrint() && p.PrintedMesh(part) != nil {
			p.Progress.Tests = append(p.Progress.Tests, &progress.Test{Part: kits.Ref{Name: part.ID}, Date: "2026-03-31", Result: progress.ResultOK, Mesh: testprints.Content(p, part)})
		}
	}
	_, text, err := kits.ReadText(p.Kit.File)
	if err != nil {
		t.Fatal(err)
	}
	return p, text
}

func pack(t *testing.T, p *plan.Project, o release.Options) []byte {
	t.Helper()
	made, err := release.Make(t.Context(), p, o)
	if err != nil {
		t.Fatal(err)
	}
	if !made.OK() {
		t.Fatalf("refused: %+v", made.Findings)
	}
	var b bytes.Buffer
	if err := made.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// unpacked is the files of an archive without the folder that all are in.
func unpacked(t *testing.T, data []byte) map[string][]byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	list := map[string][]byte{}
	for _, f := range z.File {
		folder, name, _ := strings.Cut(f.Name, "/")
		if folder != "Skerrivane R.2 revision 3" {
			t.Errorf("%s is in another folder", f.Name)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if list[name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return list
}

// The pack of the demonstration holds what it should, and its parts agree with each other.
func TestDemonstration(t *testing.T) {
	p, text := tested(t)
	first := pack(t, p, release.Options{KitText: text})
	for range kitstest.Rounds(t, 1, 0) {
		again, _ := tested(t)
		if second := pack(t, again, release.Options{KitText: text}); !bytes.Equal(first, second) {
			t.Error("made twice, it is not the same")
		}
	}
	list := unpacked(t, first)
	checksums(t, list)
	partsAgree(t, p, list)
	platesAgree(t, p, list)
	for _, name := range []string{"booklet/booklet-en.html", "booklet/booklet-de.html", "page/index.html"} {
		if !bytes.HasPrefix(bytes.ToLower(list[name]), []byte("<!doctype html>")) {
			t.Errorf("%s does not open", name)
		}
	}
	for name, data := range list {
		if path.Ext(name) == ".pdf" && !bytes.HasPrefix(data, []byte("%PDF-")) {
			t.Errorf("%s does not open", name)
		}
	}
	readme := string(list["README.txt"])
	for _, want := range []string{"revision 3", p.Kit.Contact, "WARNING", "Q01 (tooling)", "mirror nothing"} {
		if !strings.Contains(readme, want) {
			t.Errorf("the README does not say %s", want)
		}
	}
	if strings.Contains(readme, "Not test-printed") {
		t.Error("the README tells of missing test prints, and there are none")
	}
	if string(list["LICENCE.txt"]) != p.Kit.Licence+"\n" {
		t.Errorf("licence: %s", list["LICENCE.txt"])
	}
	kitWorks(t, p, list)
}

// platesAgree reads the plates back: together they hold every printed piece that has a mesh.
func platesAgree(t *testing.T, p *plan.Project, list map[string][]byte) {
	t.Helper()
	on := map[string]int{}
	for name, data := range list {
		if strings.HasPrefix(name, "plates/") && path.Ext(name) == ".3mf" {
			for _, m := range meshtest.Open(t, "plate.3mf", data, files.Options{}) {
				on[m.Name]++
			}
		}
	}
	for i, pc := range p.Kit.Pieces {
		want := 0
		if pc.Part.ToPrint() && p.Mesh(i) != nil {
			want = 1
		}
		if on[pc.ID] != want {
			t.Errorf("%s is on the plates %d times", pc.ID, on[pc.ID])
		}
	}
}

// checksums are those of all files, and of no others.
func checksums(t *testing.T, list map[string][]byte) {
	t.Helper()
	lines := strings.Split(strings.TrimSuffix(string(list["SHA256SUMS"]), "\n"), "\n")
	if len(lines) != len(list)-1 {
		t.Errorf("%d checksums for %d files", len(lines), len(list)-1)
	}
	for _, line := range lines {
		sum, name, _ := strings.Cut(line, "  ")
		if got := fmt.Sprintf("%x", sha256.Sum256(list[name])); got != sum {
			t.Errorf("%s has the checksum %s, not %s", name, got, sum)
		}
	}
}

var countOf = regexp.MustCompile(` x([0-9]+)$`)

// partsAgree compares the files of the parts with the lists and with the kit: number, name,
// count, and the shape.
func partsAgree(t *testing.T, p *plan.Project, list map[string][]byte) {
	t.Helper()
	rows := rowsOf(t, list["lists/parts.csv"])
	hardware := rowsOf(t, list["lists/hardware.csv"])
	if len(rows)+len(hardware) != len(p.Kit.Parts) {
		t.Errorf("%d and %d lines, and the kit has %d parts", len(rows), len(hardware), len(p.Kit.Parts))
	}
	found := 0
	for name, data := range list {
		if !strings.HasPrefix(name, "parts/") {
			continue
		}
		found++
		stem := strings.TrimSuffix(path.Base(name), ".3mf")
		count := 1
		if m := countOf.FindStringSubmatch(stem); m != nil {
			count, _ = strconv.Atoi(m[1])
			stem = strings.TrimSuffix(stem, m[0])
		}
		number, label, _ := strings.Cut(stem, " ")
		i := slices.IndexFunc(rows, func(r map[string]string) bool { return r["reference"] == number })
		if i < 0 {
			t.Errorf("%s: no line of the list has the number %s", name, number)
			continue
		}
		row := rows[i]
		if row["quantity"] != strconv.Itoa(count) || row["tested"] != "good" || !strings.HasPrefix(row["name"], label[:4]) {
			t.Errorf("%s: the list says %v", name, row)
		}
		if of := path.Base(path.Dir(name)); row["material"] != of && kits.PlainMaterial(row["material"]) != of {
			t.Errorf("%s: the list says that it is of %s", name, row["material"])
		}
		meshes := meshtest.Open(t, "part.3mf", data, files.Options{})
		if len(meshes) != 1 {
			t.Fatalf("%s has %d objects", name, len(meshes))
		}
		k := slices.IndexFunc(p.Kit.Parts, func(part *kits.Part) bool { return part.ID == row["part"] })
		want := p.PrintedMesh(p.Kit.Parts[k])
		if d := meshes[0].Size().Minus(want.Size()).Length(); d > 1e-3 || math.Abs(meshes[0].Volume-want.Volume) > 1e-3*want.Area {
			t.Errorf("%s is %v and %g mm3, and the part %v and %g mm3", name, meshes[0].Size(), meshes[0].Volume, want.Size(), want.Volume)
		}
	}
	withMesh := 0
	for _, part := range p.Kit.Parts {
		if part.ToPrint() && p.PrintedMesh(part) != nil {
			withMesh++
		}
	}
	if found != withMesh {
		t.Errorf("%d files for %d parts", found, withMesh)
	}
}

func rowsOf(t *testing.T, data []byte) []map[string]string {
	t.Helper()
	all, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var list []map[string]string
	for _, row := range all[1:] {
		one := map[string]string{}
		for i, head := range all[0] {
			one[head] = row[i]
		}
		list = append(list, one)
	}
	return list
}

// kitWorks loads the kit of the pack: it has the same pieces, the same order, and meshes of
// the same content.
func kitWorks(t *testing.T, p *plan.Project, list map[string][]byte) {
	t.Helper()
	folder := t.TempDir()
	for _, name := range []string{"kit.yaml", "meshes.3mf"} {
		if err := os.WriteFile(filepath.Join(folder, name), list["kit/"+name], 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := project.Load(t.Context(), folder, project.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(got.Findings) > 0 || !slices.Equal(got.Sequence.Order, p.Sequence.Order) {
		t.Errorf("the kit of the pack has another order, or findings: %+v", got.Findings)
	}
	for i := range p.Kit.Pieces {
		a, b := p.Mesh(i), got.Mesh(i)
		if (a == nil) != (b == nil) || a != nil && a.Box != b.Box {
			t.Errorf("%s is elsewhere", p.Kit.Pieces[i].ID)
		}
	}
}

// Untested parts go out only when they are let through, and the pack says so; STL on demand.
func TestUntested(t *testing.T) {
	kitstest.Repeats(t, "the script release of the program")
	p, text := tested(t)
	p.Progress.Tests = p.Progress.Tests[2:]
	made, err := release.Make(t.Context(), p, release.Options{KitText: text})
	if err != nil {
		t.Fatal(err)
	}
	if made.OK() {
		t.Error("it goes out without test prints")
	}
	list := unpacked(t, pack(t, p, release.Options{KitText: text, Untested: true, STL: true}))
	if !strings.Contains(string(list["README.txt"]), "never test-printed: H01P, H02P") {
		t.Errorf("the README does not tell:\n%s", list["README.txt"])
	}
	stl := list["parts/Main build/pla/H01P Port fore hull half.stl"]
	if m := meshtest.Open(t, "part.stl", stl, files.Options{}); len(m) != 1 || m[0].Box != p.Mesh(0).Box {
		t.Error("the STL is another shape")
	}
}

// A kit whose booklet breaks a rule that matters stays in.
func TestBookletRules(t *testing.T) {
	p := plantest.Check(t, "kit: Box\nrevision: \"1\"\nlicence: Any\ncontact: a@b.example\nparts: {box: {bought: true}, lid: {bought: true}}\njoins: [{fit: lid, to: box, with: ca}]\n")
	made, err := release.Make(t.Context(), p, release.Options{})
	if err != nil {
		t.Fatal(err)
	}
	i := slices.IndexFunc(made.Findings, func(f plan.Finding) bool { return strings.Contains(f.Text, "It states scale and revision") })
	if made.OK() || i < 0 || made.Findings[i].Grade != plan.Fault {
		t.Errorf("%+v", made.Findings)
	}
}
