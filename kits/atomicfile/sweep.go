package atomicfile

import (
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"sync"
	"syscall"
)

// Temporary files are named after the machine and the process that writes them, so that the
// next run can tell those of a run that was killed from those being written.
var temporary = regexp.MustCompile(`^\.dryfit-([0-9a-f]{8})-([0-9]{1,10})-[0-9a-f]{8}$`)

// host stands for this machine, or this container: both have process numbers of their own.
var host = sync.OnceValue(func() string {
	name, _ := os.Hostname() // where it has none, all machines without one are alike
	return fmt.Sprintf("%08x", crc32.ChecksumIEEE([]byte(name)))
})

var swept sync.Map // the folders where this run has looked

// sweep removes the temporary files that killed runs on this machine left in a folder. What
// cannot be removed stays: it does no harm.
func sweep(folder string) {
	if _, before := swept.LoadOrStore(folder, true); before {
		return
	}
	list, _ := os.ReadDir(folder)
	for _, e := range list {
		m := temporary.FindStringSubmatch(e.Name())
		if m == nil || m[1] != host() || !e.Type().IsRegular() {
			continue
		}
		if pid, err := strconv.Atoi(m[2]); err == nil && !alive(pid) {
			_ = os.Remove(filepath.Join(folder, e.Name()))
		}
	}
}

// alive reports whether a process runs, or may.
func alive(pid int) bool {
	p, err := os.FindProcess(pid)
	if err != nil {
		return false // Windows says so here, other systems below
	}
	defer func() { _ = p.Release() }()
	if runtime.GOOS == "windows" {
		return true
	}
	err = p.Signal(syscall.Signal(0))
	return err == nil || errors.Is(err, fs.ErrPermission)
}
