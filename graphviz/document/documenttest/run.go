package documenttest

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// RunOn runs a checker on a PDF where it is installed, and reports whether it is. CI
// installs it, so there its absence is a failure.
func RunOn(t testing.TB, data []byte, name string, args ...string) (string, bool) {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is not installed", name)
		}
		t.Logf("NOT CHECKED: %s is not installed", name)
		return "", false
	}
	file := filepath.Join(t.TempDir(), "book.pdf")
	if err := os.WriteFile(file, data, 0o644); err != nil {
		t.Fatal(err)
	}
	for i, a := range args {
		if a == "FILE" {
			args[i] = file
		}
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Errorf("%s: %v\n%s", name, err, out)
	}
	return string(out), true
}
