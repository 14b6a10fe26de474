package mesh

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

// folder writes files into a new folder.
func folder(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	for name, data := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(data), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

func TestFolderIsSortedByName(t *testing.T) {
	tetra := string(binarySTLOf(tetrahedron...))
	dir := folder(t, map[string]string{
		"seat.stl": tetra, "hull.STL": textTetrahedron, "pair.stl": textTetrahedron + strings.ReplaceAll(textTetrahedron, "tetra", "other"),
		"notes.txt": "x", ".hidden.stl": "x",
	})
	if err := os.Mkdir(filepath.Join(dir, "old.stl"), 0o700); err != nil {
		t.Fatal(err)
	}
	list, err := OpenFolder(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(names(list), " "); got != "hull tetra other seat" {
		t.Errorf("meshes %s", got)
	}
}

func TestFolderFaultsAreReportedTogether(t *testing.T) {
	dir := folder(t, map[string]string{"a.stl": "x", "b.stl": textTetrahedron, "c.stl": ""})
	_, err := OpenFolder(dir, Options{})
	if err == nil || !strings.Contains(err.Error(), "a.stl: is no STL") || !strings.Contains(err.Error(), "c.stl: is empty") {
		t.Errorf("error %v", err)
	}
}

func TestFolderFaults(t *testing.T) {
	tests := []struct {
		name  string
		files map[string]string
		words string
	}{
		{"nothing to read", map[string]string{"notes.txt": "x"}, "holds no .stl, .3mf or .obj file"},
		{"same names", map[string]string{"a.stl": textTetrahedron, "a.STL": textTetrahedron}, `its mesh "a" has the name of one in`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := OpenFolder(folder(t, tt.files), Options{})
			if err == nil || !strings.Contains(err.Error(), tt.words) {
				t.Errorf("error %v, want %s", err, tt.words)
			}
		})
	}
}

func TestPathFaults(t *testing.T) {
	dir := folder(t, map[string]string{"a.stl": textTetrahedron, "b.step": "x"})
	for path, words := range map[string]string{
		"none.stl": "no such file",
		".":        "is not a file",
		"b.step":   "not a mesh file by its ending",
	} {
		if _, err := OpenFile(filepath.Join(dir, path), Options{}); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%s: error %v, want %s", path, err, words)
		}
	}
	if _, err := OpenFile(filepath.Join(dir, "a.stl"), Options{Unit: -1}); err == nil {
		t.Error("a unit of -1 mm is taken")
	}
}

// A kit of very many files must not run out of file descriptors.
func TestNothingIsLeftOpen(t *testing.T) {
	count := func() int {
		list, err := os.ReadDir("/proc/self/fd")
		if err != nil {
			t.Skip("only where /proc tells the open files")
		}
		return len(list)
	}
	path := filepath.Join(folder(t, map[string]string{"a.stl": string(binarySTLOf(tetrahedron...))}), "a.stl")
	before := count()
	for range 50 {
		list, err := OpenFile(path, Options{})
		if err != nil {
			t.Fatal(err)
		}
		triangles(t, list[0])
		runtime.KeepAlive(list)
	}
	if after := count(); after > before {
		t.Errorf("%d files open, %d before", after, before)
	}
}

func TestNamesAreCounted(t *testing.T) {
	var list []*Mesh
	for _, n := range []string{"wheel", "wheel-1", "wheel", "", " \x00bolt\u202E "} {
		list = append(list, &Mesh{Name: n})
	}
	nameAll(list, "file")
	if got := strings.Join(names(list), " "); got != "wheel-2 wheel-1 wheel-3 file bolt" {
		t.Errorf("names %s", got)
	}
}

func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{
		"0": 0, "-0": 0, "12": 12, "+1.5": 1.5, ".5": 0.5, "5.": 5, "1e3": 1000, "1E-3": 0.001, "-1.25e+2": -125,
		"0.1": 0.1, "9007199254740993": 9007199254740992, "123456789012345678901234567890": 123456789012345678901234567890,
		"1e-400": 0, "0.3e-22": 0.3e-22, "4.35": 4.35, "100000000000000000000000e-23": 1,
	} {
		if got, err := number([]byte(text)); err != nil || got != want {
			t.Errorf("%s is read as %v, %v", text, got, err)
		}
	}
	for _, text := range []string{"", "-", ".", "1e", "e5", "1.2.3", "--1", "0x10", "1_0", "infinity", "1d5", "1 ", strings.Repeat("1", 500)} {
		if got, err := number([]byte(text)); err == nil {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

func TestLinesAcrossBuffers(t *testing.T) {
	var text strings.Builder
	for i := range 5000 {
		text.WriteString(strings.Repeat("x", 1+i%97) + []string{"\n", "\r\n", "\r"}[i%3])
	}
	l := &lines{r: strings.NewReader(text.String()), buf: make([]byte, 64)}
	for i := range 5000 {
		line, err := l.next()
		if err != nil || len(line) != 1+i%97 || l.n != i+1 {
			t.Fatalf("line %d: %q, %v, numbered %d", i+1, line, err, l.n)
		}
	}
	if line, err := l.next(); err == nil {
		t.Errorf("%q after the last line", line)
	}
}
