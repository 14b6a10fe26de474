// Package kitstest is for tests: kits read from text, the mistakes of testdata, and how
// much a test repeats.
package kitstest

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/kits"
)

// Read reads the text of a kit that has no faults.
func Read(t testing.TB, text string) *kits.Kit {
	t.Helper()
	k, err := kits.Read(kits.FileName, []byte(text))
	if err != nil {
		t.Fatal(err)
	}
	return k
}

// Replace replaces texts by others, given in pairs; each must occur exactly once.
func Replace(t testing.TB, text string, pairs ...string) string {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if n := strings.Count(text, pairs[i]); n != 1 {
			t.Fatalf("%q occurs %d times in the text, want 1", pairs[i], n)
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	return text
}

// Mistake applies a file of testdata/mistakes to the text of a kit: a line that begins
// with - is replaced by the line with + that follows it, or deleted if none follows.
func Mistake(t testing.TB, text, name string) string {
	t.Helper()
	lines := strings.Split(strings.TrimRight(MistakeFile(t, name), "\n"), "\n")
	for i, line := range lines {
		old, removed := strings.CutPrefix(line, "-")
		if !removed {
			continue
		}
		now, replaced := "", false
		if i+1 < len(lines) {
			now, replaced = strings.CutPrefix(lines[i+1], "+")
		}
		if !replaced {
			old, now = old+"\n", ""
		}
		text = Replace(t, text, old, now)
	}
	return text
}

// MistakeFile is the content of a file of testdata/mistakes.
func MistakeFile(t testing.TB, name string) string {
	t.Helper()
	root, err := Root()
	if err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(filepath.Join(root, "testdata", "mistakes", name+".edit"))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// Root is the folder of the module that the running test belongs to.
func Root() (string, error) {
	dir, err := os.Getwd()
	if err != nil {
		return "", err
	}
	for {
		if _, err := os.Stat(filepath.Join(dir, "go.mod")); err == nil {
			return dir, nil
		}
		up := filepath.Dir(dir)
		if up == dir {
			return "", os.ErrNotExist
		}
		dir = up
	}
}
