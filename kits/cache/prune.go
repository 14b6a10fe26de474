package cache

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"
)

// Limits on what is kept.
const (
	maxSize = 2 << 30             // bytes
	maxAge  = 90 * 24 * time.Hour // since it was last used
	freshly = time.Hour           // precision of the times of use
)

// touch notes that a file was used.
func touch(file string) {
	info, err := os.Stat(file)
	if now := time.Now(); err == nil && now.Sub(info.ModTime()) > freshly {
		_ = os.Chtimes(file, now, now) // at worst it is removed early
	}
}

// used is a file of the cache.
type used struct {
	path string
	size int64
	last time.Time
}

// prune removes entries that were not used for long, and then the least recently
// used ones until the rest is small enough. What cannot be removed stays.
func prune(folder string) {
	now := time.Now()
	left := int64(maxSize)
	for _, f := range entries(folder) {
		if left -= f.size; left < 0 || now.Sub(f.last) > maxAge {
			_ = os.Remove(f.path)
		}
	}
}

// entries lists the files of all kinds, the most recently used first.
func entries(folder string) []used {
	var list []used
	kinds, _ := os.ReadDir(folder)
	for _, kind := range kinds {
		if !kind.IsDir() || kind.Name() == Compiled {
			continue
		}
		files, _ := os.ReadDir(filepath.Join(folder, kind.Name()))
		for _, f := range files {
			if info, err := f.Info(); err == nil && info.Mode()&fs.ModeType == 0 {
				list = append(list, used{filepath.Join(folder, kind.Name(), f.Name()), info.Size(), info.ModTime()})
			}
		}
	}
	slices.SortFunc(list, func(a, b used) int { return b.last.Compare(a.last) })
	return list
}

// Compiled is the folder of the drawing library, which manages it.
const Compiled = "go-graphviz"
