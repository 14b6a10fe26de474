//go:build unix

package cache_test

import (
	"bytes"
	"path/filepath"
	"testing"
	"time"

	"dryfit/kits/cache"
	"dryfit/kits/kitstest"
)

// Whatever stands in the place of the folder of the cache, of its key or of an entry, it is
// not waited for, nor believed, nor written to. Where it is one file of the cache the next
// write replaces it.
func TestSpecialFiles(t *testing.T) {
	for _, place := range []string{"", "key", "made", "made/entry", "made/note"} {
		for _, kind := range kitstest.Specials {
			dir := filepath.Join(t.TempDir(), "cache")
			cache.Use(dir)
			t.Cleanup(func() { cache.Use("") })
			e := cache.NewEntry("made", "kit", content)
			write(t, e, result)
			path := filepath.Join(dir, place)
			for _, f := range stored(t, dir, "made") {
				if note := filepath.Base(f)[:3] == "at-"; place == "made/note" && note || place == "made/entry" && !note {
					path = f
				}
			}
			kitstest.PutSpecial(t, kind, path)
			done := make(chan bool)
			go func() {
				defer close(done)
				if got := e.Read(); got != nil && place != "made/note" {
					t.Errorf("%s in the place of %q is believed: %q", kind, place, got)
				}
				if err := e.Write(result); err == nil && !bytes.Equal(e.Read(), result) {
					t.Errorf("%s in the place of %q: what was written is not there", kind, place)
				} else if err != nil && filepath.Dir(place) == "made" {
					t.Errorf("%s in the place of %q is not replaced: %v", kind, place, err)
				}
			}()
			select {
			case <-done:
			case <-time.After(10 * time.Second):
				t.Fatalf("%s in the place of %q: it hangs", kind, place)
			}
		}
	}
}
