package health

import "golang.org/x/sync/errgroup"

// each calls do for all numbers below n, two at a time.
func each(n int, do func(i int)) {
	var all errgroup.Group
	all.SetLimit(2)
	for i := range n {
		all.Go(func() error {
			do(i)
			return nil
		})
	}
	_ = all.Wait()
}
