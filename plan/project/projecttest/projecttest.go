// Package projecttest is for tests: the demonstration kit with its meshes, measured.
//
// Shaping and measuring it takes seconds, so it is done once for all packages and kept
// in the user's cache folder. The folder there is named by a hash of the sources that
// decide its content. It appears whole or not at all, so tests may run in parallel and
// may be killed.
package projecttest

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/lockedfile"

	"dryfit/kits"
	"dryfit/kits/cache"
	"dryfit/kits/demo"
	"dryfit/kits/mesh/stl"
	"dryfit/plan"
	"dryfit/plan/project"
)

// unused is how long a folder that no test uses is kept.
const unused = 7 * 24 * time.Hour

// Folder returns the folder of the measured demonstration kit, which all tests share.
// It must not be written to; see [Copy].
var Folder = sync.OnceValues(func() (string, error) {
	store, err := storeFolder()
	if err != nil {
		return "", err
	}
	name, err := version()
	if err != nil {
		return "", err
	}
	unlock, err := lockedfile.MutexAt(filepath.Join(store, "lock")).Lock()
	if err != nil {
		return "", err
	}
	defer unlock()
	dir := filepath.Join(store, name)
	if _, err := os.Stat(dir); err != nil {
		if err := makeIn(store, dir); err != nil {
			return "", err
		}
	}
	cache.Use(filepath.Join(dir, "cache"))
	now := time.Now()
	return filepath.Join(dir, "kit"), os.Chtimes(dir, now, now)
})

// Cache returns the cache folder with the measurements of the demonstration kit, which the
// tests use that call [Folder].
func Cache() (string, error) {
	dir, err := Folder()
	return filepath.Join(filepath.Dir(dir), "cache"), err
}

// Copy returns a folder of the test's own with the measured demonstration kit.
func Copy(t testing.TB) string {
	t.Helper()
	from, err := Folder()
	if err != nil {
		t.Fatal(err)
	}
	to := t.TempDir()
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
	return to
}

// Load loads the demonstration kit with its meshes.
func Load(t testing.TB) *plan.Project {
	t.Helper()
	dir, err := Folder()
	if err != nil {
		t.Fatal(err)
	}
	p, err := project.Load(context.Background(), dir, project.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// makeIn makes the folder dir of a store, and removes what has not been used for long.
func makeIn(store, dir string) error {
	if err := sweep(store); err != nil {
		return err
	}
	tmp, err := os.MkdirTemp(store, "new-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(tmp) // renamed already when all went well
	kit := filepath.Join(tmp, "kit")
	if err := write(kit); err != nil {
		return err
	}
	cache.Use(filepath.Join(tmp, "cache"))
	if _, err := project.Load(context.Background(), kit, project.Options{Walls: true}); err != nil {
		return err
	}
	return os.Rename(tmp, dir)
}

// write writes the kit file and the meshes.
func write(dir string) error {
	if err := os.MkdirAll(filepath.Join(dir, demo.MeshFolder), 0o755); err != nil {
		return err
	}
	for _, p := range demo.Meshes() {
		var b bytes.Buffer
		if err := stl.Write(&b, p.Triangles); err != nil {
			return err
		}
		if err := os.WriteFile(filepath.Join(dir, demo.MeshFolder, p.ID+".stl"), b.Bytes(), 0o644); err != nil {
			return err
		}
	}
	return os.WriteFile(filepath.Join(dir, kits.FileName), demo.KitWithMeshes(), 0o644)
}
