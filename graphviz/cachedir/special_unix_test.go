//go:build unix

package cachedir

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
	"time"

	"dryfit/kits/kitstest"
)

// Whatever stands in the place of a file or folder of the store, it is not waited for, nor
// believed, nor written to.
func TestSpecialFiles(t *testing.T) {
	code := []byte("machine code")
	for _, place := range []string{"", "dryfit", "dryfit/key", "dryfit/go-graphviz", "dryfit/go-graphviz/version", "dryfit/go-graphviz/version/c0de", "dryfit/go-graphviz/version/c0de.signature"} {
		for _, kind := range kitstest.Specials {
			home := filepath.Join(t.TempDir(), "home")
			t.Setenv("XDG_CACHE_HOME", home)
			dir := filepath.Join(home, "dryfit", folder, "version")
			file := filepath.Join(dir, "c0de")
			run := func() (kept bool) {
				s := open()
				_, err := os.Lstat(file)
				if kept = err == nil; s == nil {
					return false
				}
				if !kept { // the library does the same
					_ = os.MkdirAll(dir, 0o700)
					_ = os.WriteFile(file, code, 0o600)
				}
				if data, err := os.ReadFile(file); err != nil || !bytes.Equal(data, code) {
					t.Errorf("%s in the place of %q: the library reads %q, %v", kind, place, data, err)
				}
				s.sign()
				return kept
			}
			within(t, kind+" in the place of "+place, func() {
				if run() || !run() {
					t.Error("nothing is kept in a sound store")
				}
				kitstest.PutSpecial(t, kind, filepath.Join(home, place))
				run()
				run()
			})
			if filepath.Ext(place) != ".signature" {
				continue
			}
			within(t, kind+" as a signature without a file", func() {
				kitstest.PutSpecial(t, kind, filepath.Join(home, place))
				_ = os.Remove(file)
				run()
			})
		}
	}
}

// within fails the test if something hangs.
func within(t *testing.T, what string, do func()) {
	t.Helper()
	done := make(chan bool)
	go func() {
		defer close(done)
		do()
	}()
	select {
	case <-done:
	case <-time.After(10 * time.Second):
		t.Fatal("it hangs: " + what)
	}
}
