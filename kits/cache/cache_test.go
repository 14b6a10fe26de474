package cache_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"dryfit/kits/cache"
)

var (
	content = []byte("triangles")
	result  = []byte("what took long")
)

func folder(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	cache.Use(dir)
	t.Cleanup(func() { cache.Use("") })
	return dir
}

func write(t *testing.T, e *cache.Entry, data []byte) {
	t.Helper()
	if err := e.Write(data); err != nil {
		t.Fatal(err)
	}
}

// stored lists the files of a kind.
func stored(t *testing.T, dir, kind string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(dir, kind, "*"))
	if err != nil {
		t.Fatal(err)
	}
	return files
}

// A result goes by content, wherever the files are; failing that, by where they are.
func TestEntry(t *testing.T) {
	folder(t)
	e := cache.NewEntry("made", "kit", content)
	if e.Read() != nil {
		t.Error("a new cache is not empty")
	}
	write(t, e, result)
	for what, c := range map[string]struct {
		e    *cache.Entry
		want []byte
	}{
		"the same":                   {e, result},
		"a copy":                     {cache.NewEntry("made", "copy", content), result},
		"changed files":              {cache.NewEntry("made", "kit", []byte("other")), result},
		"other files":                {cache.NewEntry("made", "copy", []byte("other")), nil},
		"another kind":               {cache.NewEntry("drawn", "kit", content), nil},
		"the same bytes in two cuts": {cache.NewEntry("made", "copy", content[:3], content[3:]), nil},
	} {
		if got := c.e.Read(); !bytes.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", what, got, c.want)
		}
	}
}

// An entry that is damaged anywhere, cut off, forged with another key or moved to
// another name is not trusted, and the next run replaces it.
func TestNotBelieved(t *testing.T) {
	dir := folder(t)
	e := cache.NewEntry("made", "kit", content)
	write(t, e, result)
	good := map[string][]byte{}
	for _, f := range stored(t, dir, "made") {
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		good[f] = data
	}
	other := t.TempDir()
	cache.Use(other)
	write(t, e, []byte("a lie"))
	cache.Use(dir)

	check := func(what string, change func(file string, data []byte) []byte) {
		t.Helper()
		for f, data := range good {
			if err := os.WriteFile(f, change(f, data), 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if got := e.Read(); got != nil {
			t.Errorf("%s: %q is believed", what, got)
		}
		write(t, e, result)
		if got := e.Read(); !bytes.Equal(got, result) {
			t.Errorf("%s: not replaced: %q", what, got)
		}
	}
	for n := range 32 + len(result) {
		check("one bit", func(_ string, data []byte) []byte {
			data = slices.Clone(data)
			data[min(n, len(data)-1)] ^= 1
			return data
		})
		check("cut off", func(_ string, data []byte) []byte { return data[:min(n, len(data)-1)] })
	}
	check("longer", func(_ string, data []byte) []byte { return append(slices.Clone(data), 0) })
	check("forged", func(file string, _ []byte) []byte {
		data, err := os.ReadFile(filepath.Join(other, "made", filepath.Base(file)))
		if err != nil {
			t.Fatal(err)
		}
		return data
	})
	check("moved", func(file string, _ []byte) []byte {
		for f, data := range good {
			if f != file {
				return data
			}
		}
		return nil
	})
}

// A key that others can read, or that is invalid, is replaced; what it signed is
// not trusted.
func TestKey(t *testing.T) {
	dir := folder(t)
	e := cache.NewEntry("made", "kit", content)
	name := filepath.Join(dir, "key")
	for what, spoil := range map[string]func() error{
		"read by others": func() error { return os.Chmod(name, 0o644) },
		"short":          func() error { return os.WriteFile(name, []byte("short"), 0o600) },
		"a link":         func() error { return os.Symlink(os.DevNull, name) },
	} {
		write(t, e, result)
		if info, err := os.Stat(name); err != nil || info.Mode().Perm() != 0o600 {
			t.Fatalf("%s: the key has mode %v, %v", what, info.Mode(), err)
		}
		if what == "a link" {
			if err := os.Remove(name); err != nil {
				t.Fatal(err)
			}
		}
		if err := spoil(); err != nil {
			t.Fatal(err)
		}
		if got := e.Read(); got != nil {
			t.Errorf("%s: %q is believed", what, got)
		}
	}
}

// A cache that cannot be written is an error, never a panic, and reads as empty.
func TestCannotBeWritten(t *testing.T) {
	dir := folder(t)
	file := filepath.Join(dir, "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	cache.Use(filepath.Join(file, "dryfit"))
	e := cache.NewEntry("made", "kit", content)
	if e.Read() != nil || e.Write(result) == nil {
		t.Error("a folder below a file was used")
	}
}

// Entries that were not used for long are removed by the next write.
func TestPrune(t *testing.T) {
	dir := folder(t)
	write(t, cache.NewEntry("made", "old", []byte("old")), result)
	for _, f := range stored(t, dir, "made") {
		at := time.Now().Add(-91 * 24 * time.Hour)
		if err := os.Chtimes(f, at, at); err != nil {
			t.Fatal(err)
		}
	}
	month := cache.NewEntry("made", "month", []byte("month"))
	write(t, month, result)
	for _, f := range stored(t, dir, "made")[:1] {
		if err := os.Truncate(f, 3<<30); err != nil { // sparse
			t.Skip(err)
		}
	}
	e := cache.NewEntry("drawn", "kit", content)
	write(t, e, result)
	if got := e.Read(); !bytes.Equal(got, result) {
		t.Errorf("what was written last: %q", got)
	}
	var total int64
	for _, f := range append(stored(t, dir, "made"), stored(t, dir, "drawn")...) {
		info, err := os.Stat(f)
		if err != nil {
			t.Fatal(err)
		}
		total += info.Size()
		if time.Since(info.ModTime()) > 90*24*time.Hour {
			t.Errorf("%s is kept", f)
		}
	}
	if total > 2<<30 {
		t.Errorf("%d bytes are kept", total)
	}
}
