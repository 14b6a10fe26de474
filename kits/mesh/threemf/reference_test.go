package threemf_test

import (
	"bufio"
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/scan"
)

// TestReference compares what is read here with what the consortium's own library reads, of
// every 3MF file that these tests make: which are accepted, and the triangles, volumes and
// places of their meshes. Where the two differ, the reason is in the list below.
func TestReference(t *testing.T) {
	program := reference(t)
	packages := map[string][]byte{"assembly": assembly()}
	for name, data := range forms() {
		packages["form: "+name] = data
	}
	for _, f := range append(packageFaults(), modelFaults()...) {
		packages["fault: "+f.name] = f.data
	}
	var names []string
	for name := range packages {
		names = append(names, name)
	}
	slices.Sort(names)
	theirs := readAll(t, program, names, packages)
	same := 0
	for i, name := range names {
		got, want := ours(packages[name]), theirs[i]
		reason, listed := differences[name]
		switch {
		case got == want && !listed:
			same++
		case got == want:
			t.Errorf("%s: there is no difference any more", name)
		case !listed:
			t.Errorf("%s: here\n%s\nby the library\n%s", name, got, want)
		case reason == "":
			t.Errorf("%s: the difference has no reason", name)
		}
	}
	t.Logf("%d packages are read alike, %d differ for a reason", same, len(differences))
}

// reference compiles the program that uses the library.
func reference(t *testing.T) string {
	t.Helper()
	program := filepath.Join(t.TempDir(), "reference")
	out, err := exec.Command("g++", "-O1", "-o", program, "testdata/reference.cpp", "-I/usr/include/lib3mf", "-l3MF").CombinedOutput()
	switch {
	case err == nil:
		return program
	case os.Getenv("CI") != "":
		t.Fatalf("g++ and lib3mf-dev are needed: %v\n%s", err, out)
	}
	t.Skip("NOT CHECKED: g++ or lib3mf-dev is not installed")
	return ""
}

// readAll has the library read packages, each in a run of its own: broken ones may end it.
func readAll(t *testing.T, program string, names []string, packages map[string][]byte) []string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "part.3mf")
	var list []string
	for _, name := range names {
		if err := os.WriteFile(file, packages[name], 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(program, file).Output()
		if err != nil {
			list = append(list, "broke off")
			continue
		}
		list = append(list, readOne(t, out))
	}
	return list
}

// readOne turns what the program prints of one file into the form of described.
func readOne(t *testing.T, out []byte) string {
	t.Helper()
	var list []string
	lines := bufio.NewScanner(bytes.NewReader(out))
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "file refused") {
			return "refused"
		}
		var n int
		var volume float64
		var box [6]float64
		if k, _ := fmt.Sscanf(lines.Text(), "mesh %d %g %g %g %g %g %g %g", &n, &volume, &box[0], &box[1], &box[2], &box[3], &box[4], &box[5]); k == 8 {
			list = append(list, described(n, volume/6, box))
		}
	}
	slices.Sort(list)
	return strings.Join(list, "\n")
}

func ours(data []byte) string {
	all, err := files.Read(scan.InMemory("part.3mf", data), files.Options{})
	if err != nil {
		return "refused"
	}
	var list []string
	for _, m := range all {
		list = append(list, describe(m))
	}
	slices.Sort(list)
	return strings.Join(list, "\n")
}

func describe(m *mesh.Mesh) string {
	return described(m.Len(), m.Volume, [6]float64{m.Min[0], m.Min[1], m.Min[2], m.Max[0], m.Max[1], m.Max[2]})
}

func described(triangles int, volume float64, box [6]float64) string {
	for i := range box {
		box[i] += 0 // no minus zero
	}
	return fmt.Sprintf("%d triangles, %.5g, %.4f", triangles, math.Abs(volume), box)
}
