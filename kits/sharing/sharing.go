// Package sharing waits for a file that another program holds for a moment. Only
// Windows refuses to open or to replace such a file; elsewhere nothing is waited for.
package sharing

import "time"

// patience is how long a file is waited for: a reader or a writer of dryfit holds one
// for some milliseconds, a virus scanner for some hundred.
const (
	patience = 2 * time.Second
	pause    = 5 * time.Millisecond
)

// Wait calls do until it succeeds, fails for another reason than that the file is in
// use, or two seconds are over.
func Wait(do func() error) error {
	for start := time.Now(); ; time.Sleep(pause) {
		if err := do(); err == nil || !inUse(err) || time.Since(start) > patience {
			return err
		}
	}
}
