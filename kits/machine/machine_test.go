package machine_test

import (
	"runtime"
	"testing"

	"dryfit/kits/machine"
)

// A machine that can run this test has between 64 MB and 64 TB.
func TestMemory(t *testing.T) {
	m := machine.Memory()
	switch runtime.GOOS {
	case "linux", "darwin", "windows":
		if m < 64<<20 || m > 64<<40 {
			t.Errorf("%d bytes", m)
		}
	default:
		if m != 0 {
			t.Errorf("%d bytes", m)
		}
	}
}
