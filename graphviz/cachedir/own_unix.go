//go:build unix

package cachedir

import (
	"os"
	"syscall"
)

// variable names the temporary directory.
const variable = "TMPDIR"

// ownOnly reports whether path is a folder, not a link, that belongs to this user and that
// nobody else can write to.
func ownOnly(path string) bool {
	info, err := os.Lstat(path)
	if err != nil || !info.IsDir() || info.Mode().Perm()&0o022 != 0 {
		return false
	}
	st, ok := info.Sys().(*syscall.Stat_t)
	return ok && int(st.Uid) == os.Geteuid()
}
