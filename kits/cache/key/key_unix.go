//go:build unix

package key

import (
	"io"
	"os"
	"syscall"
)

// random fills a key. The package crypto/rand would be ready too late.
func random(k []byte) error {
	f, err := os.Open("/dev/urandom")
	if err != nil {
		return err
	}
	defer f.Close()
	_, err = io.ReadFull(f, k)
	return err
}

// Private reports whether a file belongs to this user, and no other can read or write it.
func Private(info os.FileInfo) bool {
	st, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(st.Uid) == os.Geteuid() && info.Mode().Perm()&0o077 == 0
}
