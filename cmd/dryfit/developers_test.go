package main

import (
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// DEVELOPERS.md names every package and every module, and none that is gone.
func TestDevelopers(t *testing.T) {
	root := filepath.Join("..", "..")
	data, err := os.ReadFile(filepath.Join(root, "DEVELOPERS.md"))
	if err != nil {
		t.Fatal(err)
	}
	text := string(data)
	_, rooms, _ := strings.Cut(text, "\n## The rooms\n")
	rooms, _, _ = strings.Cut(rooms, "\n## ")
	there := packages(t, root)
	for name := range there {
		if !strings.Contains(rooms, "`"+name+"`") {
			t.Errorf("the package %s is not named", name)
		}
	}
	for _, cell := range regexp.MustCompile("(?m)^\\| (`.+?) \\|").FindAllStringSubmatch(rooms, -1) {
		for _, name := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(cell[1], -1) {
			if !there[name[1]] {
				t.Errorf("there is no package %s", name[1])
			}
		}
	}
	mod, err := os.ReadFile(filepath.Join(root, "go.mod"))
	if err != nil {
		t.Fatal(err)
	}
	for _, m := range regexp.MustCompile(`(?m)^\t(\S+) v\S+$`).FindAllStringSubmatch(string(mod), -1) {
		if !strings.Contains(text, m[1]) {
			t.Errorf("nothing says why the module %s is needed", m[1])
		}
	}
}

// packages are the folders below root that have Go files.
func packages(t *testing.T, root string) map[string]bool {
	t.Helper()
	list := map[string]bool{}
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		if strings.HasSuffix(name, ".go") {
			list[path.Dir(name)] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}
