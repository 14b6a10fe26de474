package main

import (
	"os"
	"testing"
	"time"
)

// A command that does not stop by itself is ended, by a second signal at once.
func TestObey(t *testing.T) {
	for what, c := range map[string]struct {
		signals int
		grace   time.Duration
	}{
		"two signals":             {2, 24 * time.Hour},
		"one, and the grace over": {1, 0},
	} {
		signals := make(chan os.Signal, 2)
		for range c.signals {
			signals <- os.Interrupt
		}
		var did []string
		obey(signals, c.grace, func() { did = append(did, "stop") }, func() { did = append(did, "exit") })
		if len(did) != 2 || did[0] != "stop" || did[1] != "exit" {
			t.Errorf("%s: did %q", what, did)
		}
	}
}
