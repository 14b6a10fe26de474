// Package machine says what the computer has.
package machine

// Memory is the memory that the program may use, in bytes: that of the machine or, in a
// container, that of the container. It is 0 if it cannot be found out.
func Memory() int64 { return memory() }
