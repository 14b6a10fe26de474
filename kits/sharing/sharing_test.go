package sharing_test

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"dryfit/kits/sharing"
)

func TestWait(t *testing.T) {
	calls := 0
	if err := sharing.Wait(func() error { calls++; return nil }); err != nil || calls != 1 {
		t.Errorf("%d calls, %v", calls, err)
	}
	other := errors.New("another reason")
	calls = 0
	if err := sharing.Wait(func() error { calls++; return other }); !errors.Is(err, other) || calls != 1 {
		t.Errorf("%d calls, %v", calls, err)
	}
}

// A file that is open cannot be replaced on Windows until it is closed.
func TestReplaceOpenFile(t *testing.T) {
	dir := t.TempDir()
	old, new := filepath.Join(dir, "old"), filepath.Join(dir, "new")
	for _, name := range []string{old, new} {
		if err := os.WriteFile(name, []byte(filepath.Base(name)), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	held, err := os.Open(old)
	if err != nil {
		t.Fatal(err)
	}
	tries := 0
	err = sharing.Wait(func() error {
		if tries++; tries == 3 || runtime.GOOS != "windows" {
			held.Close()
		}
		return os.Rename(new, old)
	})
	if data, _ := os.ReadFile(old); err != nil || string(data) != "new" || runtime.GOOS == "windows" && tries != 3 {
		t.Errorf("%q after %d tries, %v", data, tries, err)
	}
}
