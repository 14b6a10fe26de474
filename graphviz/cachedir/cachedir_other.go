//go:build !unix

package cachedir

func private() (dir string, temporary bool) { return "", false }
