package cachedir

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"dryfit/kits/cache/key"
)

// A file that is as it was is known by its stamp; one that was changed in place or replaced
// by another, even with the times of the first, is checked whole.
func TestStamp(t *testing.T) {
	home := t.TempDir()
	t.Setenv("XDG_CACHE_HOME", home)
	t.Setenv("LocalAppData", home)
	dir := filepath.Join(home, "dryfit", folder, "version")
	file := filepath.Join(dir, "c0de")
	s := open()
	if s == nil {
		t.Fatal("there is no store")
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	must(os.MkdirAll(dir, 0o700))
	must(os.WriteFile(file, []byte("machine code"), 0o600))
	s.sign()
	first := stampOf(file)
	if first == nil {
		t.Skip("there are no stamps on this system")
	}
	if _, stamp := contents(file); !bytes.Equal(stamp, first) || !s.signed(file) {
		t.Error("the file has two stamps, or is not signed")
	}
	info, err := os.Stat(file)
	must(err)
	for what, change := range map[string]func() error{
		"in place": func() error { return os.WriteFile(file, []byte("another code"), 0o600) },
		"replaced": func() error {
			return swap(file, func() error { return os.WriteFile(file, []byte("another code"), 0o600) })
		},
	} {
		must(change())
		must(os.Chtimes(file, info.ModTime(), info.ModTime()))
		if bytes.Equal(stampOf(file), first) || s.signed(file) {
			t.Errorf("%s: the change is not seen", what)
		}
		must(os.WriteFile(file, []byte("machine code"), 0o600))
		if !s.signed(file) {
			t.Errorf("%s, and back: not signed", what)
		}
	}
	// A stamp signed by another key is not believed.
	signature := regular(file + ending)
	other := key.Key(bytes.Repeat([]byte{1}, key.Size))
	must(os.WriteFile(file, []byte("another code"), 0o600))
	must(os.WriteFile(file+ending, append(signature[:key.Size:key.Size], other.Sign(stampName(file), stampOf(file))...), 0o600))
	if s.signed(file) {
		t.Error("a forged stamp is believed")
	}
}
