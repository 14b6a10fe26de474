package projecttest

import (
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"
)

// A store keeps what has been used of late, and its lock; what was not, or was left by
// a test that was killed long ago, goes.
func TestSweep(t *testing.T) {
	store := t.TempDir()
	for name, age := range map[string]time.Duration{"demo-used": time.Hour, "new-made-now": 0, "demo-unused": 2 * unused, "new-killed": 2 * unused} {
		dir := filepath.Join(store, name)
		if err := os.MkdirAll(filepath.Join(dir, "parts"), 0o700); err != nil {
			t.Fatal(err)
		}
		at := time.Now().Add(-age)
		if err := os.Chtimes(dir, at, at); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(store, "lock"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := sweep(store); err != nil {
		t.Fatal(err)
	}
	entries, err := os.ReadDir(store)
	if err != nil {
		t.Fatal(err)
	}
	var left []string
	for _, e := range entries {
		left = append(left, e.Name())
	}
	if want := []string{"demo-used", "lock", "new-made-now"}; !slices.Equal(left, want) {
		t.Errorf("left %v, want %v", left, want)
	}
}

// The kit that tests share is measured, and a copy may be changed without changing it.
func TestCopyIsSeparate(t *testing.T) {
	kept, err := Cache()
	if err != nil {
		t.Fatal(err)
	}
	if list, err := filepath.Glob(filepath.Join(kept, "measurements-*", "*")); err != nil || len(list) == 0 {
		t.Errorf("no measurements in %s (%v)", kept, err)
	}
	shared, err := Folder()
	if err != nil {
		t.Fatal(err)
	}
	read := func(dir string) []byte {
		data, err := os.ReadFile(filepath.Join(dir, "kit.yaml"))
		if err != nil {
			t.Fatal(err)
		}
		return data
	}
	before := read(shared)
	dir := Copy(t)
	if !slices.Equal(read(dir), before) {
		t.Error("the copy is another kit")
	}
	if err := os.WriteFile(filepath.Join(dir, "kit.yaml"), []byte("changed"), 0o644); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(read(shared), before) {
		t.Error("a change of the copy has changed what all tests share")
	}
}
