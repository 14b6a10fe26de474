package machine

import (
	"syscall"
	"unsafe"
)

// memoryStatus is the MEMORYSTATUSEX of the Windows API.
type memoryStatus struct {
	length, load                                                                  uint32
	total, available, totalPage, availablePage, totalVirtual, availableVirtual, _ uint64
}

func memory() int64 {
	s := memoryStatus{}
	s.length = uint32(unsafe.Sizeof(s))
	call := syscall.NewLazyDLL("kernel32.dll").NewProc("GlobalMemoryStatusEx")
	if call.Find() != nil {
		return 0
	}
	if ok, _, _ := call.Call(uintptr(unsafe.Pointer(&s))); ok == 0 {
		return 0
	}
	return int64(s.total)
}
