package cachedir

import (
	"os"
	"syscall"
)

// identity is what only the file system can change.
func identity(info os.FileInfo) []byte {
	st, ok := info.Sys().(*syscall.Stat_t)
	if !ok {
		return nil
	}
	var b []byte
	for _, n := range []int64{int64(st.Dev), int64(st.Ino), st.Size, int64(st.Mtimespec.Sec), int64(st.Mtimespec.Nsec), int64(st.Ctimespec.Sec), int64(st.Ctimespec.Nsec)} {
		b = number(b, n)
	}
	return b
}
