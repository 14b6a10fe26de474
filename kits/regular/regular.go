// Package regular reads untrusted files: regular files only, up to a limit.
// Opening a named pipe could block forever, and a device may never end.
package regular

import (
	"fmt"
	"io"
	"io/fs"
	"os"

	"dryfit/kits/plain"
	"dryfit/kits/sharing"
)

// Open opens a regular file for reading; a link to one will do. The error begins with the
// path.
func Open(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, plain.PathError(err)
	}
	if err := Check(path, info); err != nil {
		return nil, err
	}
	var f *os.File
	err = sharing.Wait(func() (err error) {
		f, err = os.OpenFile(path, os.O_RDONLY|nonblock, 0)
		return err
	})
	if err != nil {
		return nil, plain.PathError(err)
	}
	// It may have been replaced since.
	if info, err = f.Stat(); err == nil {
		err = Check(path, info)
	}
	if err != nil {
		f.Close()
		return nil, plain.PathError(err)
	}
	return f, nil
}

// Read reads a regular file, but no more of it than limit bytes.
func Read(path string, limit int64) ([]byte, error) {
	f, err := Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	data, err := io.ReadAll(io.LimitReader(f, limit))
	if err != nil {
		return nil, plain.PathError(err)
	}
	return data, nil
}

// Check is the error of a file that is not a regular one.
func Check(path string, info fs.FileInfo) error {
	if info.Mode().IsRegular() {
		return nil
	}
	return fmt.Errorf("%s: is %s, not a regular file", plain.Text(path), kind(info.Mode()))
}

func kind(m fs.FileMode) string {
	switch {
	case m.IsDir():
		return "a folder"
	case m&fs.ModeNamedPipe != 0:
		return "a named pipe"
	case m&fs.ModeSocket != 0:
		return "a socket"
	case m&fs.ModeDevice != 0:
		return "a device"
	case m&fs.ModeSymlink != 0:
		return "a link"
	}
	return "something else"
}
