package files_test

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
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
	tetra := string(meshtest.STL(meshtest.Tetrahedron...))
	dir := folder(t, map[string]string{
		"seat.stl": tetra, "hull.STL": meshtest.TetrahedronSTL, "pair.stl": meshtest.TetrahedronSTL + strings.ReplaceAll(meshtest.TetrahedronSTL, "tetra", "other"),
		"notes.txt": "x", ".hidden.stl": "x",
	})
	if err := os.Mkdir(filepath.Join(dir, "old.stl"), 0o700); err != nil {
		t.Fatal(err)
	}
	list, err := files.OpenFolder(dir, files.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(meshtest.Names(list), " "); got != "hull tetra other seat" {
		t.Errorf("meshes %s", got)
	}
}

func TestFolderFaultsAreReportedTogether(t *testing.T) {
	dir := folder(t, map[string]string{"a.stl": "x", "b.stl": meshtest.TetrahedronSTL, "c.stl": ""})
	_, err := files.OpenFolder(dir, files.Options{})
	if err == nil || !strings.Contains(err.Error(), "a.stl: is not an STL") || !strings.Contains(err.Error(), "c.stl: is empty") {
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
		{"same names", map[string]string{"a.stl": meshtest.TetrahedronSTL, "a.STL": meshtest.TetrahedronSTL}, `its mesh "a" has the same name as one in`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, err := files.OpenFolder(folder(t, tt.files), files.Options{})
			if err == nil || !strings.Contains(err.Error(), tt.words) {
				t.Errorf("error %v, want %s", err, tt.words)
			}
		})
	}
}

func TestPathFaults(t *testing.T) {
	dir := folder(t, map[string]string{"a.stl": meshtest.TetrahedronSTL, "b.step": "x"})
	for path, words := range map[string]string{
		"none.stl": "no such file",
		".":        "is a folder, not a regular file",
		"b.step":   "not a mesh file by its extension",
	} {
		if _, err := files.Open(filepath.Join(dir, path), files.Options{}); err == nil || !strings.Contains(err.Error(), words) {
			t.Errorf("%s: error %v, want %s", path, err, words)
		}
	}
	if _, err := files.Open(filepath.Join(dir, "a.stl"), files.Options{Unit: -1}); err == nil {
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
	path := filepath.Join(folder(t, map[string]string{"a.stl": string(meshtest.STL(meshtest.Tetrahedron...))}), "a.stl")
	before := count()
	for range 50 {
		list, err := files.Open(path, files.Options{})
		if err != nil {
			t.Fatal(err)
		}
		meshtest.Triangles(t, list[0])
		runtime.KeepAlive(list)
	}
	if after := count(); after > before {
		t.Errorf("%d files open, %d before", after, before)
	}
}
