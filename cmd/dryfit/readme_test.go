package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/plan"
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
	rep, err := plan.Check(kit)
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
