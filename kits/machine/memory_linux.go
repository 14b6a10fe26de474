package machine

import (
	"os"
	"strconv"
	"strings"
)

func memory() int64 {
	m := total()
	// The limit of a container: of version 2 of control groups, then of version 1.
	for _, name := range []string{"/sys/fs/cgroup/memory.max", "/sys/fs/cgroup/memory/memory.limit_in_bytes"} {
		data, err := os.ReadFile(name)
		if err != nil {
			continue
		}
		if n, err := strconv.ParseInt(strings.TrimSpace(string(data)), 10, 64); err == nil && n > 0 && (m == 0 || n < m) {
			m = n
		}
	}
	return m
}

// total is what the kernel manages.
func total() int64 {
	data, err := os.ReadFile("/proc/meminfo")
	if err != nil {
		return 0
	}
	for line := range strings.Lines(string(data)) {
		if f := strings.Fields(line); len(f) == 3 && f[0] == "MemTotal:" && f[2] == "kB" {
			n, _ := strconv.ParseInt(f[1], 10, 64) // 0 if it is no number
			return n << 10
		}
	}
	return 0
}
