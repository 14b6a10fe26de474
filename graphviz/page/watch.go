package page

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"time"

	"dryfit/kits"
	"dryfit/kits/english"
)

// pollEvery is how often files are checked. Reading the sizes and times of 150
// files takes a tenth of a millisecond; system notifications would miss shared
// folders.
const pollEvery = 50 * time.Millisecond

// stamp distinguishes versions of a file.
type stamp struct {
	size int64
	time time.Time
}

// watch calls check at once, and again whenever a file, or a file in a folder,
// has changed and then stays the same for one interval, so that a program can
// finish writing. A change cancels the check under way and calls changed at once,
// with what has changed; the next check starts when the last one has given up.
// unchanged reports whether the files are still as they were when a check began.
func watch(ctx context.Context, files func() []string, changed func(what string), check func(ctx context.Context, unchanged func() bool)) {
	list := files()
	last := snapshot(list)
	stop, done := start(ctx, list, last, check)
	defer func() { stop(); <-done }()
	checked, pending := last, false
	tick := time.NewTicker(pollEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		list = files()
		now := snapshot(list)
		switch {
		case !maps.Equal(last, now):
			stop()
			changed(difference(checked, now))
			pending = true
		case pending && isClosed(done):
			pending, checked = false, now
			stop, done = start(ctx, list, now, check)
		}
		last = now
	}
}

// start runs a check of files as they are now.
func start(ctx context.Context, files []string, now map[string]stamp, check func(context.Context, func() bool)) (stop func(), done chan struct{}) {
	ctx, stop = context.WithCancel(ctx)
	done = make(chan struct{})
	go func() {
		defer close(done)
		check(ctx, func() bool { return maps.Equal(now, snapshot(files)) })
	}()
	return stop, done
}

func isClosed(c <-chan struct{}) bool {
	select {
	case <-c:
		return true
	default:
		return false
	}
}

// difference says which files differ: the first by its name, and how many more.
func difference(before, now map[string]stamp) string {
	names := map[string]string{}
	for f, s := range now {
		if was, there := before[f]; !there {
			names[f] = "is new"
		} else if was != s {
			names[f] = "was saved"
		}
	}
	for f := range before {
		if _, there := now[f]; !there {
			names[f] = "is gone"
		}
	}
	list := slices.Sorted(maps.Keys(names))
	switch n := len(list); n {
	case 0:
		return "files were saved and put back"
	case 1:
		return kits.Plain(filepath.Base(list[0])) + " " + names[list[0]]
	default:
		return fmt.Sprintf("%s %s, and %s changed", kits.Plain(filepath.Base(list[0])), names[list[0]], english.Count(n-1, "more file"))
	}
}

func snapshot(files []string) map[string]stamp {
	list := map[string]stamp{}
	for _, f := range files {
		info, err := os.Stat(f)
		if err != nil {
			continue
		}
		if !info.IsDir() {
			list[f] = stamp{info.Size(), info.ModTime()}
			continue
		}
		entries, err := os.ReadDir(f)
		if err != nil {
			continue
		}
		for _, e := range entries {
			if info, err := e.Info(); err == nil && !e.IsDir() {
				list[filepath.Join(f, e.Name())] = stamp{info.Size(), info.ModTime()}
			}
		}
	}
	return list
}
