// Command dryfit proves that every piece of a model kit can reach its seat when its
// turn comes, and writes the build sequence. It has more than 25 files because each
// command has its own.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"syscall"
	"time"

	"dryfit/kits"
	"dryfit/kits/plain"
)

// Exit statuses.
const (
	exitOK       = 0 // all is well
	exitFindings = 1 // the kit has faults to fix
	exitFailed   = 2 // the command could not do its work
)

// errFindings ends a command that has shown faults.
var errFindings = errors.New("the kit has faults to fix")

// errShown ends a command that failed and has already said why.
var errShown = errors.New("failed")

func main() {
	// A run is short and small: collecting garbage less often makes it shorter. The
	// limit keeps a large kit from paying for that with memory.
	debug.SetGCPercent(400)
	debug.SetMemoryLimit(800 << 20)
	os.Exit(run())
}

func run() int {
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	signals := make(chan os.Signal, 2)
	signal.Notify(signals, os.Interrupt, syscall.SIGTERM)
	go obey(signals, grace, stop, exitStopped)
	root := newRoot()
	err := root.ExecuteContext(ctx)
	return status(err, os.Stderr)
}

// grace is how long a command may take to end once it is asked to.
const grace = 300 * time.Millisecond

// obey ends the program when it gets a signal: with the first in an orderly way, but within
// the grace, with the second at once. Files are written whole or not at all, even then.
func obey(signals <-chan os.Signal, grace time.Duration, stop, exit func()) {
	<-signals
	stop()
	select {
	case <-signals:
	case <-time.After(grace):
	}
	exit()
}

func exitStopped() {
	fmt.Fprintln(os.Stderr, "dryfit: stopped")
	os.Exit(exitFailed)
}

// status maps an error to an exit status, after saying what is wrong.
func status(err error, stderr io.Writer) int {
	var faults kits.Faults
	switch {
	case err == nil:
		return exitOK
	case errors.Is(err, errFindings):
		return exitFindings
	case errors.Is(err, errShown):
		return exitFailed
	case errors.Is(err, context.Canceled):
		fmt.Fprintln(stderr, "dryfit: stopped; nothing was written")
		return exitFailed
	case errors.As(err, &faults):
		sayFaults(stderr, faults)
		return exitFailed
	}
	fmt.Fprintln(stderr, "dryfit: "+plain.Lines(err.Error()))
	return exitFailed
}

// shownFaults bounds how many faults of a file are shown; the rest is counted.
const shownFaults = 50

func sayFaults(w io.Writer, faults kits.Faults) {
	for i, f := range faults {
		if i == shownFaults {
			fmt.Fprintf(w, "and %d more\n", len(faults)-i)
			return
		}
		fmt.Fprintln(w, f.Error())
	}
}
