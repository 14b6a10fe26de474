//go:build !linux && !darwin && !windows

package machine

func memory() int64 { return 0 }
