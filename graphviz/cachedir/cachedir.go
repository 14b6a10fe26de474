// Package cachedir decides where the drawing library keeps its compiled code.
//
// The library compiles itself when its package is loaded, and keeps the machine code in a
// folder with a fixed name in the temporary directory, from which it later runs the code
// without checking it. On a machine with several users, somebody else could have made that
// folder first; and a damaged file there makes it panic. So, before the library is loaded,
// this package removes from a folder in the user's cache, which nobody else can write to,
// all that does not have its signature, and points the temporary directory there.
// [Restore] points it back, and signs what is new. If there is no such folder, or it cannot
// be written, the temporary directory is one that cannot be: then the library keeps
// nothing.
//
// It works because Go initialises packages that are ready in the order of their import
// paths (since Go 1.21). All that this package imports is either imported by the library
// as well, or sorts before it: so this package is ready first. A test of the program
// checks this.
package cachedir

import "os"

var saved struct {
	changed bool
	value   string
	set     bool
	store   *store // nil if nothing is kept
}

func init() {
	dir := os.DevNull // in which no folder can be made
	if saved.store = open(); saved.store != nil {
		dir = saved.store.parent
	}
	saved.value, saved.set = os.LookupEnv(variable)
	saved.changed = os.Setenv(variable, dir) == nil
}

// Restore points the temporary directory back to where it was. Call it once the drawing
// library has been loaded.
func Restore() {
	if !saved.changed {
		return
	}
	saved.changed = false
	if saved.set {
		_ = os.Setenv(variable, saved.value) // it was set before
	} else {
		_ = os.Unsetenv(variable)
	}
	if saved.store != nil {
		saved.store.sign()
	}
}
