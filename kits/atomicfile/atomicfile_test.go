package atomicfile

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestWrite(t *testing.T) {
	dir := t.TempDir()
	never := func([]byte) bool { return false }
	path := filepath.Join(dir, "new.txt")
	if err := Write(path, []byte("one"), false, never); err != nil {
		t.Fatal(err)
	}
	// A new file has the rights that any new file has here.
	other := filepath.Join(dir, "other.txt")
	if f, err := os.Create(other); err != nil || f.Close() != nil {
		t.Fatal(err)
	}
	if got, want := mode(t, path), mode(t, other); got != want {
		t.Errorf("a new file has mode %v, want %v", got, want)
	}
	if err := Write(path, []byte("two"), false, never); err == nil || !strings.Contains(err.Error(), "was not written by dryfit") {
		t.Errorf("somebody else's file: %v", err)
	}
	if err := Write(path, []byte("one"), false, never); err != nil {
		t.Errorf("the same content: %v", err)
	}
	if err := os.Chmod(path, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := Write(path, []byte("three"), true, never); err != nil {
		t.Fatal(err)
	}
	if got := mode(t, path); got != 0o600 {
		t.Errorf("a replaced file has mode %v, want what it had, 0600", got)
	}
	if b, err := os.ReadFile(path); err != nil || string(b) != "three" {
		t.Errorf("%q, %v", b, err)
	}
	if err := Write(dir, []byte("x"), true, never); err == nil || !strings.Contains(err.Error(), "not a plain file") {
		t.Errorf("a folder: %v", err)
	}
	if err := Write(filepath.Join(dir, "none", "x"), []byte("x"), false, never); err == nil {
		t.Error("no error for a folder that does not exist")
	}
	left, err := filepath.Glob(filepath.Join(dir, ".dryfit-*"))
	if err != nil || len(left) > 0 {
		t.Errorf("temporary files are left: %v %v", left, err)
	}
}

func mode(t *testing.T, path string) os.FileMode {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return info.Mode().Perm()
}

// Many that write the same new file at once all succeed. One that writes something else
// over what is not its own does not.
func TestWriteAtOnce(t *testing.T) {
	ours := func(old []byte) bool { return strings.HasPrefix(string(old), "dryfit") }
	for round := range 50 {
		path := filepath.Join(t.TempDir(), "new.txt")
		errs := make(chan error, 8)
		for i := range cap(errs) {
			go func() { errs <- Write(path, fmt.Appendf(nil, "dryfit %d", i), false, ours) }()
		}
		for range cap(errs) {
			if err := <-errs; err != nil {
				t.Fatalf("round %d: %v", round, err)
			}
		}
		if err := Write(path, []byte("other"), false, Never); err == nil {
			t.Error("a file of another is replaced")
		}
	}
}

// Errors name the file that is wanted, not the temporary one.
func TestErrorsNameTheFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "none", "x.txt")
	err := Write(path, nil, true, nil)
	if err == nil || err.Error() != path+" cannot be written: no such file or directory" {
		t.Errorf("got %v", err)
	}
}
