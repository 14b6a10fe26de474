package stopping

import (
	"context"
	"errors"
	"testing"
)

func TestSoon(t *testing.T) {
	failed := errors.New("failed")
	n, err := Soon(t.Context(), func() (int, error) { return 7, failed })
	if n != 7 || err != failed {
		t.Errorf("%d, %v", n, err)
	}
	// What does not end is left behind.
	ctx, stop := context.WithCancel(t.Context())
	forever, ended := make(chan int), make(chan bool)
	defer func() { close(forever); <-ended }()
	n, err = Soon(ctx, func() (int, error) {
		stop()
		<-forever
		close(ended)
		return 7, nil
	})
	if n != 0 || !errors.Is(err, context.Canceled) {
		t.Errorf("%d, %v", n, err)
	}
	// What has not begun does not begin.
	if _, err := Soon(ctx, func() (int, error) { t.Error("it began"); return 0, nil }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}
