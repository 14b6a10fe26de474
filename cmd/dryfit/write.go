package main

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"dryfit/kits"
)

// writeFile writes a file at once or not at all: into a temporary file beside it,
// which then takes its name. A file that is there already is replaced only with
// force, or when ours says that dryfit wrote it.
func writeFile(path string, data []byte, force bool, ours func(old []byte) bool) error {
	old, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !old.Mode().IsRegular():
		return fmt.Errorf("%s is not a plain file; choose another name", kits.Plain(path))
	case !force:
		was, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if !bytes.Equal(was, data) && !ours(was) {
			return fmt.Errorf("%s exists and was not written by dryfit; choose another name, or replace it with --force", kits.Plain(path))
		}
	}
	exists := err == nil
	tmp, err := os.CreateTemp(filepath.Dir(path), ".dryfit-*")
	if err != nil {
		return err
	}
	defer os.Remove(tmp.Name()) // gone already when all went well
	_, err = tmp.Write(data)
	if err == nil {
		err = tmp.Chmod(0o644)
	}
	if err == nil {
		err = tmp.Sync()
	}
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	if !exists && !force {
		// A link fails when somebody else has made the file since.
		if err := os.Link(tmp.Name(), path); err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return os.Rename(tmp.Name(), path)
}
