//go:build unix

package kitstest

import (
	"net"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// Specials are what may stand in the place of a file or folder, each of which a program must
// neither wait for nor believe nor write to.
var Specials = []string{"a file", "a folder", "a named pipe", "a socket", "an endless device", "a link to itself", "a link to nothing", "a link to a file", "a link to a folder"}

// elsewhere is what a link leads to; see [PutSpecial].
const elsewhere = "written by someone else"

// PutSpecial puts one of [Specials] in the place of whatever is there. What a link leads to is
// checked at the end of the test: nothing may be written to it.
func PutSpecial(t testing.TB, kind, path string) {
	t.Helper()
	if err := os.RemoveAll(path); err != nil {
		t.Fatal(err)
	}
	if err := putSpecial(t, kind, path); err != nil {
		t.Fatalf("%s in the place of %s: %v", kind, path, err)
	}
}

func putSpecial(t testing.TB, kind, path string) error {
	switch kind {
	case "a file":
		return os.WriteFile(path, []byte(elsewhere), 0o600)
	case "a folder":
		return os.MkdirAll(filepath.Join(path, "something"), 0o700)
	case "a named pipe":
		return syscall.Mkfifo(path, 0o600)
	case "a socket":
		return putSocket(path)
	case "an endless device":
		return os.Symlink("/dev/zero", path)
	case "a link to itself":
		return os.Symlink(path, path)
	case "a link to nothing":
		return os.Symlink(filepath.Join(t.TempDir(), "nothing"), path)
	case "a link to a file":
		file := filepath.Join(t.TempDir(), "file")
		t.Cleanup(func() {
			if data, err := os.ReadFile(file); err != nil || string(data) != elsewhere {
				t.Errorf("what %s linked to is now %q, %v", path, data, err)
			}
		})
		if err := os.WriteFile(file, []byte(elsewhere), 0o600); err != nil {
			return err
		}
		return os.Symlink(file, path)
	}
	return os.Symlink(t.TempDir(), path)
}

// putSocket makes a socket under a short path, which is all that one may have, and moves it.
func putSocket(path string) error {
	dir, err := os.MkdirTemp("", "s")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	l, err := net.ListenUnix("unix", &net.UnixAddr{Name: filepath.Join(dir, "s")})
	if err != nil {
		return err
	}
	l.SetUnlinkOnClose(false)
	defer l.Close()
	return os.Rename(filepath.Join(dir, "s"), path)
}
