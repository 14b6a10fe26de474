package cachedir

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// A file that is damaged anywhere is removed before the library could read it, and one that
// the library then writes is kept. The same holds for a damaged signature or key.
func TestDamaged(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv("LocalAppData", home)
	code := bytes.Repeat([]byte("machine code "), 40)
	dir := filepath.Join(home, "dryfit", folder, "version")
	file := filepath.Join(dir, "c0de")
	write := func(name string, data []byte) {
		t.Helper()
		if err := os.WriteFile(name, data, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	run := func(what string, want bool) {
		t.Helper()
		s := open()
		if s == nil {
			t.Fatalf("%s: there is no store", what)
		}
		if err := os.MkdirAll(dir, 0o700); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Lstat(file); (err == nil) != want {
			t.Errorf("%s: the file is kept: %v, want %v", what, err == nil, want)
		}
		if !want {
			write(file, code)
		}
		s.sign()
	}
	run("the first run", false)
	run("the second", true)
	for i := range 100 {
		bad := bytes.Clone(code)
		bad[i*len(bad)/100] ^= byte(1 + i)
		write(file, bad)
		run(fmt.Sprint("damage ", i), false)
		run(fmt.Sprint("after damage ", i), true)
	}
	for what, damage := range map[string]func() error{
		"cut off":        func() error { return os.Truncate(file, 100) },
		"empty":          func() error { return os.Truncate(file, 0) },
		"a signature":    func() error { return os.Truncate(file+ending, 5) },
		"no signature":   func() error { return os.Remove(file + ending) },
		"another key":    func() error { return os.Remove(filepath.Join(home, "dryfit", "key")) },
		"a link":         func() error { return swap(file, func() error { return os.Symlink("elsewhere", file) }) },
		"a folder":       func() error { return swap(file, func() error { return os.MkdirAll(file, 0o700) }) },
		"a file for all": func() error { return swap(dir, func() error { return os.WriteFile(dir, nil, 0o600) }) },
	} {
		if err := damage(); err != nil {
			t.Fatal(err)
		}
		run(what, false)
		run("after "+what, true)
	}
}

// swap puts something in the place of a path.
func swap(path string, put func() error) error {
	if err := os.RemoveAll(path); err != nil {
		return err
	}
	return put()
}

// Where nothing can be written there is no store.
func TestNoStore(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, home := range []string{file, filepath.Join(file, "below"), ""} {
		t.Setenv("XDG_CACHE_HOME", home)
		t.Setenv("LocalAppData", home)
		if home == "" {
			t.Setenv("HOME", "")
		}
		if open() != nil {
			t.Errorf("%q: there is a store", home)
		}
	}
}

// What another program is writing is left to it.
func TestBeingWritten(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv("LocalAppData", home)
	file := filepath.Join(home, "dryfit", folder, "version", "c0de.1.tmp")
	if err := os.MkdirAll(filepath.Dir(file), 0o700); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, []byte("half"), 0o600); err != nil {
		t.Fatal(err)
	}
	if s := open(); s == nil {
		t.Fatal("there is no store")
	}
	if _, err := os.Lstat(file); err != nil {
		t.Error(err)
	}
}
