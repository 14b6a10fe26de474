package blocking_test

import (
	"context"
	"errors"
	"math"
	"reflect"
	"sync/atomic"
	"testing"

	"dryfit/plan/blocking"
)

// countdown is a context that is cancelled when it has been looked at so many times.
type countdown struct {
	context.Context
	cancel context.CancelFunc
	left   atomic.Int64
}

func newCountdown(t *testing.T, looks int64) *countdown {
	ctx, cancel := context.WithCancel(context.Background())
	t.Cleanup(cancel)
	c := &countdown{Context: ctx, cancel: cancel}
	c.left.Store(looks)
	return c
}

func (c *countdown) Err() error {
	if c.left.Add(-1) == 0 {
		c.cancel()
	}
	return c.Context.Err()
}

// Whenever measuring is cancelled, within a strip as well, it ends with that error and not
// with half of the measurements. Each row of a strip is a chance to end.
func TestCancelAnywhere(t *testing.T) {
	pieces := made(t, box(vec{}, vec{10, 10, 10}), box(vec{1, 1, 1}, vec{9, 9, 9}), box(vec{2, 2, 2}, vec{12, 12, 12}))
	whole := newCountdown(t, math.MaxInt64)
	if _, err := blocking.Measure(whole, pieces, blocking.Settings{Pitch: 0.3}); err != nil {
		t.Fatal(err)
	}
	looks := math.MaxInt64 - whole.left.Load()
	if looks < 13*30 { // directions, and rows of each at the least
		t.Errorf("the context is looked at only %d times", looks)
	}
	for k := int64(1); k < looks*9/10; k += 1 + looks/50 {
		if _, err := blocking.Measure(newCountdown(t, k), pieces, blocking.Settings{Pitch: 0.3}); !errors.Is(err, context.Canceled) {
			t.Errorf("cancelled at look %d of %d: %v", k, looks, err)
		}
	}
}

// What was finished when measuring was cancelled is taken up by the next run, which
// then looks at less and finds the same.
func TestCancelledGoesOn(t *testing.T) {
	pieces := made(t, box(vec{}, vec{10, 10, 10}), box(vec{10, 1, 1}, vec{19, 9, 9}), box(vec{2, 2, 10}, vec{12, 12, 22}))
	whole := newCountdown(t, math.MaxInt64)
	want, err := blocking.Measure(whole, pieces, blocking.Settings{Pitch: 0.3})
	if err != nil {
		t.Fatal(err)
	}
	looks := math.MaxInt64 - whole.left.Load()
	part, err := blocking.Measure(newCountdown(t, looks*2/3), pieces, blocking.Settings{Pitch: 0.3})
	if !errors.Is(err, context.Canceled) || part == nil || len(part.Directions) == 0 || len(part.Directions) >= len(want.Directions) {
		t.Fatalf("cancelled: %v, want some directions measured", err)
	}
	rest := newCountdown(t, math.MaxInt64)
	again, err := blocking.Measure(rest, pieces, blocking.Settings{Pitch: 0.3, Known: part.Known()})
	if err != nil {
		t.Fatal(err)
	}
	if n := math.MaxInt64 - rest.left.Load(); n > looks*2/3 {
		t.Errorf("the second run looks %d times at its context, the first would have %d times", n, looks)
	}
	if !reflect.DeepEqual(again.Known(), want.Known()) || !reflect.DeepEqual(again.Pairs, want.Pairs) {
		t.Error("the second run does not find the same")
	}
}
