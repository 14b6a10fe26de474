package sharing

import (
	"errors"
	"syscall"
)

// sharingViolation is ERROR_SHARING_VIOLATION of the Windows system error codes, "the
// process cannot access the file because it is being used by another process".
const sharingViolation = syscall.Errno(32)

// inUse reports whether a file was refused because another program has it open.
// Replacing one that is open is refused as access denied.
func inUse(err error) bool {
	return errors.Is(err, sharingViolation) || errors.Is(err, syscall.ERROR_ACCESS_DENIED)
}
