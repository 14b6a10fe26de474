// Package stopping lets a program stop in the middle of work that cannot be stopped.
package stopping

import (
	"context"
	"time"
)

// patience is how long work that looks at the context itself has to end in an orderly way.
const patience = 100 * time.Millisecond

// Soon does some work and returns what it returns or, a moment after the context is done,
// the error of that. The work is then left behind: it must end by itself, and change nothing
// that others see. It is for calculations that take some seconds for the largest kits and
// have no loop in which to look at a context; what takes longer, or writes files, must look
// at one.
func Soon[T any](ctx context.Context, work func() (T, error)) (T, error) {
	var result T
	if err := ctx.Err(); err != nil {
		return result, err
	}
	type outcome struct {
		result T
		err    error
	}
	done := make(chan outcome, 1)
	go func() {
		var o outcome
		o.result, o.err = work()
		done <- o
	}()
	select {
	case o := <-done:
		return o.result, o.err
	case <-ctx.Done():
	}
	select {
	case o := <-done:
		return o.result, o.err
	case <-time.After(patience):
		return result, ctx.Err()
	}
}
