package page

import (
	"context"
	"maps"
	"os"
	"path/filepath"
	"time"
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

// watch calls changed at once, and again whenever a file, or a file in a folder,
// changes and then stays the same for one interval, so that a program can finish
// writing. Changes made while changed runs are found afterwards.
func watch(ctx context.Context, files func() []string, changed func()) {
	last := snapshot(files())
	changed()
	pending := false
	tick := time.NewTicker(pollEvery)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now := snapshot(files())
		switch {
		case !maps.Equal(last, now):
			pending = true
		case pending:
			pending = false
			changed()
		}
		last = now
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
