// Command dryfit proves that every piece of a model kit can reach its seat when its
// turn comes, and writes the build sequence.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	"dryfit/kits"
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
	debug.SetMemoryLimit(200 << 20)
	os.Exit(run())
}

func run() int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	root := newRoot()
	err := root.ExecuteContext(ctx)
	return status(err, os.Stderr)
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
	lines := strings.Split(strings.TrimSpace(err.Error()), "\n")
	for i, line := range lines {
		lines[i] = kits.Plain(line)
	}
	fmt.Fprintln(stderr, "dryfit: "+strings.Join(lines, "\n"))
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
