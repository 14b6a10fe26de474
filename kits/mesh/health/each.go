package health

import (
	"context"
	"sync/atomic"

	"golang.org/x/sync/errgroup"
)

// each calls do for all numbers below n, two at a time, until the context ends.
// Two goroutines share them: one per number would cost more than some calls.
func each(ctx context.Context, n int, do func(i int)) {
	var all errgroup.Group
	var next atomic.Int64
	for range min(n, 2) {
		all.Go(func() error {
			for i := int(next.Add(1)) - 1; i < n && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				do(i)
			}
			return nil
		})
	}
	_ = all.Wait()
}
