//go:build !unix

package regular

const nonblock = 0
