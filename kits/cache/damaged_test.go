package cache_test

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits/cache"
	"dryfit/kits/kitstest"
)

// Entries damaged at random, and entries forged without the key, are never believed, and
// the next write replaces each.
func TestDamagedAndForged(t *testing.T) {
	dir := folder(t)
	random := rand.New(rand.NewPCG(14, 3))
	good := make([]byte, 5000)
	for i := range good {
		good[i] = byte(random.Uint32())
	}
	e := cache.NewEntry("made", "kit", content)
	stranger := t.TempDir()
	believed, kept := 0, 0
	try := func(spoil func(file string, data []byte) []byte) {
		t.Helper()
		for _, f := range stored(t, dir, "made") {
			data, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(f, spoil(f, data), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if got := e.Read(); got != nil {
			believed++
		}
		write(t, e, good)
		if !bytes.Equal(e.Read(), good) {
			kept++
		}
	}
	write(t, e, good)
	for range kitstest.Rounds(t, 500, 50) {
		try(func(_ string, data []byte) []byte { return kitstest.Spoil(random, data) })
	}
	for range kitstest.Rounds(t, 300, 30) {
		lie := bytes.Clone(good)
		lie[random.IntN(len(lie))]++
		try(func(file string, data []byte) []byte {
			switch random.IntN(3) {
			case 0: // without a signature that fits
				return append(data[:32:32], lie...)
			case 1: // signed with the key of another user
				cache.Use(stranger)
				write(t, e, lie)
				cache.Use(dir)
				forged, err := os.ReadFile(filepath.Join(stranger, "made", filepath.Base(file)))
				if err != nil {
					t.Fatal(err)
				}
				return forged
			}
			cache.Use(dir) // signed by this user, for another kind of entry
			write(t, cache.NewEntry("other", "kit", content), lie)
			moved, err := os.ReadFile(filepath.Join(dir, "other", filepath.Base(file)))
			if err != nil {
				t.Fatal(err)
			}
			return moved
		})
	}
	if believed > 0 || kept > 0 {
		t.Errorf("%d are believed, %d are not replaced", believed, kept)
	}
}
