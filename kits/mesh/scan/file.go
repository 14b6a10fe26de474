package scan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"

	"dryfit/kits/plain"
	"dryfit/kits/regular"
)

// MaxBytes is the size of the largest mesh file that is read.
const MaxBytes = 16 << 30

// Limits for files whose triangles are kept in memory: all but binary STL.
const (
	MaxTriangles = 50_000_000
	MaxCorners   = 3 * MaxTriangles
	MaxMeshes    = 20_000
)

// File is a mesh file, which may be opened many times.
type File struct {
	Name string // its path; the extension gives the format
	Size int64  // bytes
	Open func() (Bytes, error)
}

// Bytes is an open file.
type Bytes interface {
	io.ReaderAt
	io.Closer
}

// OnDisk is a file on disk. Opening it fails once it has changed.
func OnDisk(path string) (File, error) {
	info, err := os.Stat(path)
	if err != nil {
		return File{}, plain.PathError(err)
	}
	if err := regular.Check(path, info); err != nil {
		return File{}, err
	}
	if info.Size() > MaxBytes {
		return File{}, fmt.Errorf("%s: is larger than %d GB; export it with fewer triangles", plain.Text(path), MaxBytes>>30)
	}
	return File{path, info.Size(), func() (Bytes, error) { return reopen(path, info) }}, nil
}

// reopen leaves the path out of its errors: the caller adds it.
func reopen(path string, was fs.FileInfo) (Bytes, error) {
	f, err := regular.Open(path)
	if err != nil {
		if inner := errors.Unwrap(err); inner != nil {
			err = inner
		}
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && (info.Size() != was.Size() || !info.ModTime().Equal(was.ModTime())) {
		err = errors.New("changed while it was being measured; run again")
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// InMemory is a file in memory.
func InMemory(name string, data []byte) File {
	return File{name, int64(len(data)), func() (Bytes, error) {
		return struct {
			io.ReaderAt
			io.Closer
		}{bytes.NewReader(data), io.NopCloser(nil)}, nil
	}}
}

// Head is the first 512 bytes of a file, or all if there are fewer.
func Head(f *io.SectionReader) ([]byte, error) {
	head := make([]byte, min(f.Size(), 512))
	if _, err := f.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	return head, nil
}
