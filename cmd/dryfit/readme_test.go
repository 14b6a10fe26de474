package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/kits/cache"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan/explain"
	"dryfit/plan/project/projecttest"
)

// The README tells the truth: its example kit has no finding, the reference is that
// of the program, the cost table has every term, every command is named.
func TestReadme(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	readme := string(data)
	if !strings.Contains(readme, kits.Reference()) {
		t.Error("the reference is not that of dryfit schema --reference")
	}
	_, example, _ := strings.Cut(readme, "```yaml\n")
	example, _, _ = strings.Cut(example, "```")
	kit, err := kits.Read("README.md", []byte(example))
	if err != nil {
		t.Fatalf("the example kit: %v", err)
	}
	rep, err := explain.Check(kit)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range rep.Findings {
		t.Errorf("the example kit: %s %s: %s", f.Grade, f.Kind, f.Text)
	}
	for _, term := range rep.Sequence.Cost {
		if !strings.Contains(readme, "| "+term.Name+" | "+term.Means+" |") {
			t.Errorf("the cost table lacks %s as the program has it", term.Name)
		}
	}
	for _, c := range newRoot().Commands() {
		if !strings.Contains(readme, "`dryfit "+c.Name()) && c.Name() != "help" {
			t.Errorf("the command %s is not named", c.Name())
		}
	}
}

// The runs shown in the README are what the program prints.
func TestReadmeRuns(t *testing.T) {
	if testing.Short() {
		t.Skip("it measures the demonstration kit, which takes long under the race detector")
	}
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	text := kitstest.Mistake(t, string(demo.Kit), "m01-ballast-late")
	before, err := projecttest.Cache()
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	if err := errors.Join(os.WriteFile("late.yaml", []byte(text), 0o644), runDemo(io.Discard, "kittest", demoOptions{})); err != nil {
		t.Fatal(err)
	}
	if kitstest.Full() {
		cache.Use(t.TempDir())
		t.Cleanup(func() { cache.Use(before) })
	} else {
		t.Log("shortened: the kit is measured already; CI=true measures it")
	}
	for _, block := range strings.Split(string(data), "```") {
		if !strings.HasPrefix(block, "\n$ ") {
			continue
		}
		var out string
		for _, line := range strings.Split(strings.TrimSpace(block), "\n") {
			if command, is := strings.CutPrefix(line, "$ dryfit "); is {
				out = printed(t, strings.Fields(command))
			} else if strings.TrimSpace(line) != "..." && !strings.Contains(out, line+"\n") {
				t.Errorf("the README shows a line that is not printed: %q", line)
			}
		}
	}
}

// printed runs a command and returns what it prints, whatever its status.
func printed(t *testing.T, args []string) string {
	t.Helper()
	root := newRoot()
	var out strings.Builder
	root.SetOut(&out)
	root.SetArgs(args)
	if err := root.Execute(); err != nil && !errors.Is(err, errFindings) {
		t.Fatal(err)
	}
	return out.String()
}
