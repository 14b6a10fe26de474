package notices

import (
	"bytes"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// legal are the names of files that hold licences and notices.
var legal = regexp.MustCompile(`(?i)^(licen[cs]es?|copying|notice|patents|authors|ofl)([-.].*)?$`)

// licences are names of folders of licences, of the module itself and of what it took over.
var licences = regexp.MustCompile(`(?i)^(third.?party.?)?licen[cs]es?$`)

// modules finds the folder of each module that the program is built from, on any system,
// by module and version.
func modules(t *testing.T) map[string]string {
	t.Helper()
	list := map[string]string{}
	for _, system := range []string{"linux", "darwin", "windows"} {
		c := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}{{end}}{{end}}", "dryfit/cmd/dryfit")
		c.Env = append(os.Environ(), "GOOS="+system, "CGO_ENABLED=0")
		out, err := c.Output()
		if err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(string(out)) {
			if name, dir, found := strings.Cut(strings.TrimSpace(line), "\t"); found {
				list[name] = dir
			}
		}
	}
	return list
}

// texts lists the licences and notices of a module: those at its root and in a folder of
// licences.
func texts(t *testing.T, name, dir string) []string {
	t.Helper()
	var list []string
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil {
			return err
		}
		at, _ := filepath.Rel(dir, path)
		if d.IsDir() {
			if at != "." && !licences.MatchString(d.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		if legal.MatchString(d.Name()) || licences.MatchString(filepath.Dir(at)) {
			data, err := os.ReadFile(path)
			if err != nil {
				return err
			}
			list = append(list, strings.TrimSpace(strings.ReplaceAll(string(data), "\r\n", "\n")))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(list) == 0 {
		t.Errorf("%s has no licence text; add one under texts", name)
	}
	return list
}

// gather makes the text from the sources of the modules, the Go library and the files
// under texts, which are for what no module has a text of.
func gather(t *testing.T) []byte {
	t.Helper()
	var b bytes.Buffer
	head := func(name string, list []string) {
		fmt.Fprintf(&b, "%s\n%s\n%s\n\n%s\n\n", strings.Repeat("=", 72), name, strings.Repeat("=", 72), strings.Join(list, "\n\n"))
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	own, err := os.ReadFile("../../../LICENSE")
	if err != nil {
		t.Fatal(err)
	}
	head("dryfit", []string{strings.TrimSpace(string(own))})
	head("The Go library", texts(t, "Go", strings.TrimSpace(string(root))))
	list := modules(t)
	for _, name := range slices.Sorted(maps.Keys(list)) {
		head(name, texts(t, name, list[name]))
	}
	files, err := filepath.Glob("texts/*.txt")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		head("within github.com/goccy/go-graphviz: "+strings.TrimSuffix(filepath.Base(f), ".txt"), []string{strings.TrimSpace(string(data))})
	}
	return b.Bytes()
}

// The notices are those of the modules that the program is built from today: a new
// dependency, or another version of one, makes them anew.
func TestNoticesAreCurrent(t *testing.T) {
	want := gather(t)
	if os.Getenv("UPDATE_GOLDEN") != "" {
		if err := os.WriteFile("notices.txt", want, 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if Text != string(want) {
		t.Error("the notices are out of date; UPDATE_GOLDEN=1 go test ./cmd/dryfit/notices writes them anew")
	}
	for _, s := range []string{"Eclipse Public License", "Expat", "wasi-libc", "SIL OPEN FONT LICENSE", "wazero", "yaml"} {
		if !strings.Contains(Text, s) {
			t.Errorf("%q is not among the notices", s)
		}
	}
}
