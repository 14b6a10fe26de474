package projecttest

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"time"

	"dryfit/kits/kitstest"
)

// storeFolder is where the kits of all versions of the sources are kept.
func storeFolder() (string, error) {
	parent, err := os.UserCacheDir()
	if err != nil {
		parent = os.TempDir()
	}
	store := filepath.Join(parent, "dryfit-test")
	return store, os.MkdirAll(store, 0o700)
}

// version is a hash of all sources that decide how the demonstration kit is shaped and
// measured.
func version() (string, error) {
	root, err := kitstest.Root()
	if err != nil {
		return "", err
	}
	sum := sha256.New()
	for _, folder := range []string{"kits", "plan/blocking", "plan/project"} {
		err := filepath.WalkDir(filepath.Join(root, folder), func(file string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() || !decides(file) {
				return err
			}
			data, err := os.ReadFile(file)
			fmt.Fprintf(sum, "%s %d\n%s", filepath.Base(file), len(data), data)
			return err
		})
		if err != nil {
			return "", err
		}
	}
	return "demo-" + hex.EncodeToString(sum.Sum(nil)[:12]), nil
}

// decides reports whether a file is a source of the program, not a test.
func decides(file string) bool {
	return !strings.HasSuffix(file, "_test.go") && (strings.HasSuffix(file, ".go") || strings.HasSuffix(file, ".yaml"))
}

// sweep removes the folders of a store that have not been used for long, and what
// killed tests have left.
func sweep(store string) error {
	entries, err := os.ReadDir(store)
	if err != nil {
		return err
	}
	for _, e := range entries {
		info, err := e.Info()
		if err != nil {
			return err
		}
		if e.IsDir() && time.Since(info.ModTime()) > unused {
			if err := os.RemoveAll(filepath.Join(store, e.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}
