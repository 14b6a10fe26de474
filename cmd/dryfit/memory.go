package main

import (
	"fmt"
	"math"
	"runtime/debug"
	"strconv"

	"dryfit/kits/machine"
)

// memoryFlag is the memory that a run may take, in GB.
type memoryFlag float64

// allowed is set by the flag --memory, which all commands have; 0 for the default.
var allowed memoryFlag

func (m *memoryFlag) String() string {
	if *m == 0 {
		return ""
	}
	return strconv.FormatFloat(float64(*m), 'g', -1, 64)
}

func (m *memoryFlag) Type() string { return "GB" }

func (m *memoryFlag) Set(text string) error {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil || !(v > 0 && v < 1e6) {
		return fmt.Errorf("must be a number of GB above 0")
	}
	*m = memoryFlag(v)
	return nil
}

// bytes is the limit: by default half of what the machine has, and none if that is not
// known.
func (m memoryFlag) bytes() int64 {
	if m > 0 {
		return int64(float64(m) * 1e9)
	}
	return machine.Memory() / 2
}

// roomy lifts the limit under which small runs keep their memory: meshes need more. What they
// take is in few large pieces, so it costs little to collect garbage often.
func roomy() {
	debug.SetGCPercent(35)
	limit := allowed.bytes()
	if limit == 0 {
		limit = math.MaxInt64
	}
	debug.SetMemoryLimit(limit)
}
