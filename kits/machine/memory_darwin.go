package machine

import (
	"encoding/binary"
	"syscall"
)

func memory() int64 {
	s, err := syscall.Sysctl("hw.memsize")
	if err != nil {
		return 0
	}
	// A number of eight bytes, read as a text without its last zero.
	var raw [8]byte
	copy(raw[:], s)
	return int64(binary.LittleEndian.Uint64(raw[:]))
}
