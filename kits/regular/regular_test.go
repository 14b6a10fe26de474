package regular_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dryfit/kits/regular"
)

func TestRead(t *testing.T) {
	dir := t.TempDir()
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, []byte("0123456789"), 0o600); err != nil {
		t.Fatal(err)
	}
	link := filepath.Join(dir, "link")
	if err := os.Symlink(file, link); err != nil {
		t.Skip(err)
	}
	for _, name := range []string{file, link} {
		if data, err := regular.Read(name, 4); string(data) != "0123" || err != nil {
			t.Errorf("%s: %q, %v", name, data, err)
		}
	}
	if _, err := regular.Read(filepath.Join(dir, "none"), 4); !os.IsNotExist(unwrapped(err)) {
		t.Errorf("a file that is not there: %v", err)
	}
	loop := filepath.Join(dir, "loop")
	if err := os.Symlink(loop, loop); err != nil {
		t.Fatal(err)
	}
	if _, err := regular.Read(loop, 4); err == nil || !strings.HasPrefix(err.Error(), loop) {
		t.Errorf("a link to itself: %v", err)
	}
	if _, err := regular.Read(dir, 4); err == nil || !strings.Contains(err.Error(), "is a folder, not a regular file") {
		t.Errorf("a folder: %v", err)
	}
}

func unwrapped(err error) error {
	if u, ok := err.(interface{ Unwrap() error }); ok {
		return u.Unwrap()
	}
	return err
}
