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
	before := Measurements(t)
	dir := Copy(t)
	file := filepath.Join(dir, "parts.measured")
	if data, err := os.ReadFile(file); err != nil || !slices.Equal(data, before) {
		t.Fatalf("the copy has other measurements (%v)", err)
	}
	if err := os.WriteFile(file, []byte("changed"), 0o644); err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(Measurements(t), before) {
		t.Error("a change of the copy has changed what all tests share")
	}
}
