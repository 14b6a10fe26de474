package page

import (
	"context"
	"os"
	"path/filepath"
	"time"
)

// looks is how often files are looked at. Looking at the sizes and times of 150 files
// takes a tenth of a millisecond; messages of the system would miss shared folders.
const looks = 50 * time.Millisecond

// seen is what is remembered of a file.
type seen struct {
	size int64
	time time.Time
}

// watch calls changed at first, and whenever the kit file, or a mesh in its folder, has
// become another and has stayed so for one look: a program that is still writing is left
// to finish. What changes while changed is at work is seen afterwards.
func watch(ctx context.Context, files func() []string, changed func()) {
	last := look(files())
	changed()
	pending := false
	tick := time.NewTicker(looks)
	defer tick.Stop()
	for {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		now := look(files())
		switch {
		case !same(last, now):
			pending = true
		case pending:
			pending = false
			changed()
		}
		last = now
	}
}

func look(files []string) map[string]seen {
	list := map[string]seen{}
	for _, f := range files {
		info, err := os.Stat(f)
		if err != nil {
			continue
		}
		if !info.IsDir() {
			list[f] = seen{info.Size(), info.ModTime()}
			continue
		}
		entries, err := os.ReadDir(f)
		if err != nil {
			continue
		}
		for _, e := range entries {
			if info, err := e.Info(); err == nil && !e.IsDir() {
				list[filepath.Join(f, e.Name())] = seen{info.Size(), info.ModTime()}
			}
		}
	}
	return list
}

func same(a, b map[string]seen) bool {
	if len(a) != len(b) {
		return false
	}
	for f, s := range a {
		if b[f] != s {
			return false
		}
	}
	return true
}
