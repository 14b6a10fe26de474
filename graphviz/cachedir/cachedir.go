// Package cachedir decides where the drawing library keeps its compiled code.
//
// The library compiles itself when its package is loaded, and keeps the machine code in a
// folder with a fixed name in the temporary directory, from which it later runs the code
// without checking it. On a machine with several users, somebody else could have made that
// folder first. So, before the library is loaded, this package points the temporary
// directory to a folder in the user's cache that nobody else can write to, and [Restore]
// points it back. If there is no such folder, a new one is made for this run, and removed
// by Restore.
//
// It works because Go initialises packages that are ready in the order of their import
// paths (since Go 1.21), and this package imports only os and syscall: it is ready before
// path/filepath, which the library imports. A test in the package above checks this.
//
// On Windows the temporary directory belongs to the user, and nothing is done.
package cachedir

import "os"

var saved struct {
	changed bool
	value   string
	set     bool
	remove  string // folder made for this run only
}

func init() {
	dir, temporary := private()
	if dir == "" {
		return
	}
	saved.value, saved.set = os.LookupEnv("TMPDIR")
	if os.Setenv("TMPDIR", dir) != nil {
		return
	}
	saved.changed = true
	if temporary {
		saved.remove = dir
	}
}

// Restore points the temporary directory back to where it was. Call it once the drawing
// library has been loaded.
func Restore() {
	if !saved.changed {
		return
	}
	saved.changed = false
	if saved.set {
		_ = os.Setenv("TMPDIR", saved.value) // it was set before
	} else {
		_ = os.Unsetenv("TMPDIR")
	}
	if saved.remove != "" {
		_ = os.RemoveAll(saved.remove) // left to the system's clean-up at worst
	}
}
