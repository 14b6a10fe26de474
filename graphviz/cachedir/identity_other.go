//go:build !linux && !darwin

package cachedir

import "os"

// identity is nil: what the system says of a file does not tell that it was replaced.
func identity(os.FileInfo) []byte { return nil }
