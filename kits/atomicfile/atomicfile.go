// Package atomicfile writes files whole or not at all, and never over the work of
// somebody else.
package atomicfile

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"math/rand/v2"
	"os"
	"path/filepath"

	"dryfit/kits"
	"dryfit/kits/sharing"
)

// Never is for files that may hold the user's own work: no file is taken for dryfit's.
func Never([]byte) bool { return false }

// Write writes a file whole or not at all: into a temporary file beside it, which then
// takes its name and keeps the permissions of the file that was there. An existing file
// is replaced only with force, or when ours says that dryfit wrote it.
func Write(path string, data []byte, force bool, ours func(old []byte) bool) error {
	same := func(path string) (bool, error) {
		var was []byte
		err := sharing.Wait(func() (err error) {
			was, err = os.ReadFile(path)
			return err
		})
		return bytes.Equal(was, data) || ours(was), err
	}
	return Stream(path, force, same, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// Stream is [Write] for what is too large to be held in memory: put writes it. ours gets
// the name of the file that is there. put may be called again when somebody else makes
// the file meanwhile.
func Stream(path string, force bool, ours func(path string) (bool, error), put func(io.Writer) error) error {
	old, err := os.Lstat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !old.Mode().IsRegular():
		return fmt.Errorf("%s is not a plain file; choose another name", kits.Plain(path))
	case !force:
		if is, err := ours(path); err != nil {
			return err
		} else if !is {
			return fmt.Errorf("%s exists and was not written by dryfit; choose another name, or replace it with --force", kits.Plain(path))
		}
	}
	if err := write(path, put, old, force); !errors.Is(err, fs.ErrExist) {
		return err
	}
	return Stream(path, force, ours, put) // somebody else has made it since
}

// write writes a file that is to be replaced, or that is not there: then old is nil.
func write(path string, put func(io.Writer) error, old fs.FileInfo, force bool) error {
	tmp, err := createBeside(path)
	if err != nil {
		return cannot(path, err)
	}
	defer os.Remove(tmp.Name()) // gone already when all went well
	err = put(tmp)
	if err == nil && old != nil {
		err = tmp.Chmod(old.Mode().Perm())
	}
	if err == nil {
		err = tmp.Sync()
	}
	if cerr := tmp.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return cannot(path, err)
	}
	if old == nil && !force {
		// A link fails when somebody else has made the file since.
		if err := os.Link(tmp.Name(), path); err == nil || errors.Is(err, fs.ErrExist) {
			return err
		}
	}
	return cannot(path, sharing.Wait(func() error { return os.Rename(tmp.Name(), path) }))
}

// cannot is an error about the file that is wanted, not about the temporary one.
func cannot(path string, err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case err == nil:
		return nil
	case errors.As(err, &pe):
		err = pe.Err
	case errors.As(err, &le):
		err = le.Err
	}
	return fmt.Errorf("%s cannot be written: %w", kits.Plain(path), err)
}

// createBeside makes a new file in the folder of path, with the rights that the
// user's umask gives a new file.
func createBeside(path string) (*os.File, error) {
	folder := filepath.Dir(path)
	sweep(folder)
	for {
		name := filepath.Join(folder, fmt.Sprintf(".dryfit-%s-%d-%08x", host(), os.Getpid(), rand.Uint32()))
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if !errors.Is(err, fs.ErrExist) {
			return f, err
		}
	}
}
