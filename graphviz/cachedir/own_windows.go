package cachedir

import "os"

// variable names the temporary directory.
const variable = "TMP"

// ownOnly reports whether path is a folder, not a link. The user's cache folder is for the
// user alone.
func ownOnly(path string) bool {
	info, err := os.Lstat(path)
	return err == nil && info.IsDir()
}
