//go:build unix

package cachedir

import (
	"os"
	"syscall"
)

// private returns a folder that only this user can write to: one in the user's
// cache, or else a new temporary one.
func private() (dir string, temporary bool) {
	if cache, err := os.UserCacheDir(); err == nil {
		dir := cache + "/dryfit"
		// MkdirAll leaves a folder that exists as it is; ownOnly then judges it.
		if os.MkdirAll(dir, 0o700) == nil && ownOnly(cache) && ownOnly(dir) && ownOnlyIfThere(dir+"/go-graphviz") {
			return dir, false
		}
	}
	dir, err := os.MkdirTemp("", "dryfit-")
	if err != nil {
		return "", false
	}
	return dir, true
}

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

func ownOnlyIfThere(path string) bool {
	_, err := os.Lstat(path)
	return os.IsNotExist(err) || ownOnly(path)
}
