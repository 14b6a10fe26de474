package main

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/graphviz/help"
	"dryfit/kits/cache"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/plan/project/projecttest"
)

// The README names every command and every topic.
func TestReadme(t *testing.T) {
	readme := readReadme(t)
	for _, c := range newRoot().Commands() {
		if !strings.Contains(readme, "`dryfit "+c.Name()) {
			t.Errorf("the command %s is not named", c.Name())
		}
	}
	for _, topic := range help.Topics() {
		if !strings.Contains(readme, "`"+topic.Name+"`") {
			t.Errorf("the topic %s is not named", topic.Name)
		}
	}
}

func readReadme(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "README.md"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// The runs shown in the README and in the topics are what the program prints.
func TestRunsShown(t *testing.T) {
	if testing.Short() {
		t.Skip("it measures the demonstration kit, which takes long under the race detector")
	}
	texts := []string{readReadme(t)}
	for _, topic := range help.Topics() {
		texts = append(texts, string(topic.Markdown()))
	}
	runs := 0
	demonstrationKits(t)
	for _, text := range texts {
		for _, block := range strings.Split(text, "```") {
			if strings.HasPrefix(block, "\n$ ") {
				runs++
				compareRun(t, strings.Split(strings.TrimSpace(block), "\n"))
			}
		}
	}
	if runs < 6 {
		t.Errorf("only %d runs are shown", runs)
	}
}

// demonstrationKits makes the kits of the runs in a folder of the test's own, and goes
// there.
func demonstrationKits(t *testing.T) {
	t.Helper()
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
}

// compareRun runs the commands of a block and looks for the lines below each in what it
// prints; lines of dots stand for what is left out.
func compareRun(t *testing.T, block []string) {
	t.Helper()
	var out string
	for _, line := range block {
		if command, is := strings.CutPrefix(line, "$ dryfit "); is {
			out = printed(t, strings.Fields(command))
		} else if strings.TrimSpace(line) != "..." && !strings.Contains(out, line+"\n") {
			t.Errorf("a line is shown that is not printed: %q", line)
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
