//go:build unix

package regular

import "syscall"

// nonblock keeps the opening of a pipe from waiting for its other end.
const nonblock = syscall.O_NONBLOCK
