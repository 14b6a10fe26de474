// Package demotest makes variants of the demonstration kit for tests.
package demotest

import (
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"dryfit/kits/demo"
)

// Mistakes lists the edits in testdata/mistakes by their names.
func Mistakes(t testing.TB) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder(t), "*.edit"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no mistakes: %v", err)
	}
	for i, f := range files {
		files[i] = strings.TrimSuffix(filepath.Base(f), ".edit")
	}
	return files
}

// Edited is the demonstration kit, without meshes, with one of the mistakes in it.
func Edited(t testing.TB, mistake string) []byte {
	t.Helper()
	edit, err := os.ReadFile(filepath.Join(folder(t), mistake+".edit"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(demo.Kit)
	lines := strings.Split(strings.TrimRight(string(edit), "\n"), "\n")
	for i, line := range lines {
		if !strings.HasPrefix(line, "-") {
			continue
		}
		old, now := line[1:], ""
		if i+1 < len(lines) && strings.HasPrefix(lines[i+1], "+") {
			now = lines[i+1][1:]
		} else {
			old += "\n"
		}
		if n := strings.Count(text, old); n != 1 {
			t.Fatalf("%s: %q is in the kit %d times, not once", mistake, old, n)
		}
		text = strings.Replace(text, old, now, 1)
	}
	return []byte(text)
}

func folder(t testing.TB) string {
	_, file, _, ok := runtime.Caller(0)
	if !ok {
		t.Fatal("the test does not know where it is")
	}
	return filepath.Join(filepath.Dir(file), "..", "..", "..", "testdata", "mistakes")
}
