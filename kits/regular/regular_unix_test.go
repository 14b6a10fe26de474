//go:build unix

package regular_test

import (
	"net"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"dryfit/kits/regular"
)

// What is no regular file is refused, and nothing is waited for.
func TestSpecialFiles(t *testing.T) {
	dir, err := os.MkdirTemp("", "s") // the paths of sockets are short
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = os.RemoveAll(dir) })
	pipe, socket, endless := filepath.Join(dir, "pipe"), filepath.Join(dir, "socket"), filepath.Join(dir, "endless")
	if err := syscall.Mkfifo(pipe, 0o600); err != nil {
		t.Fatal(err)
	}
	l, err := net.Listen("unix", socket)
	if err != nil {
		t.Fatal(err)
	}
	defer l.Close()
	if err := os.Symlink("/dev/zero", endless); err != nil {
		t.Fatal(err)
	}
	for path, want := range map[string]string{
		pipe:    "is a named pipe, not a regular file",
		socket:  "is a socket, not a regular file",
		endless: "is a device, not a regular file",
	} {
		if _, err := regular.Read(path, 4); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", path, err, want)
		}
	}
}
