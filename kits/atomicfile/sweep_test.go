package atomicfile

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// Temporary files of runs that are over are removed by the next write into their folder;
// those of running programs, of other machines and of anybody else are not.
func TestSweep(t *testing.T) {
	cmd := exec.Command(os.Args[0], "-test.run", "^$")
	if err := cmd.Run(); err != nil {
		t.Fatal(err)
	}
	dead, living := cmd.Process.Pid, os.Getpid()
	dir := t.TempDir()
	files := map[string]bool{ // that stay
		fmt.Sprintf(".dryfit-%s-%d-0123abcd", host(), dead):     false,
		fmt.Sprintf(".dryfit-%s-%d-0123abcd", host(), living):   true,
		fmt.Sprintf(".dryfit-00000000-%d-0123abcd", dead):       true,
		fmt.Sprintf(".dryfit-%s-%d-0123abcd.txt", host(), dead): true,
		".dryfit-notes": true,
	}
	for name := range files {
		if err := os.WriteFile(filepath.Join(dir, name), nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := Write(filepath.Join(dir, "new.txt"), []byte("one"), false, Never); err != nil {
		t.Fatal(err)
	}
	for name, stays := range files {
		if _, err := os.Lstat(filepath.Join(dir, name)); (err == nil) != stays {
			t.Errorf("%s: stays %v, want %v", name, err == nil, stays)
		}
	}
	if list, err := os.ReadDir(dir); err != nil || len(list) != len(files) {
		t.Errorf("%d files, %v; want %d", len(list), err, len(files))
	}
}
