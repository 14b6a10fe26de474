package release

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/kits/regular"
)

// The files that are unpacked, with a limit for each in bytes: that of a kit file, and more
// than any kit has in meshes.
var unpackedFiles = []struct {
	name string
	most int64
}{{KitFile, format.MaxBytes}, {"kit/" + meshesName, 8 << 30}}

// UnpackKit unpacks the kit of a release, with its meshes, into a folder and returns its
// file. Nothing else of the archive is looked at. The error says that it is no release, or
// is the context's.
func UnpackKit(ctx context.Context, archive, folder string) (string, error) {
	file, err := regular.Open(archive)
	if err != nil {
		return "", err
	}
	defer file.Close()
	z, err := read(file)
	if err != nil {
		return "", fmt.Errorf("%s cannot be read as a release: %w", kits.Plain(archive), err)
	}
	for _, want := range unpackedFiles {
		f := find(z, want.name)
		if f == nil {
			return "", fmt.Errorf("%s is not a release: it has no %s", kits.Plain(archive), want.name)
		}
		if err := unpack(ctx, f, filepath.Join(folder, filepath.Base(want.name)), want.most); err != nil {
			return "", fmt.Errorf("%s: %s: %w", kits.Plain(archive), want.name, err)
		}
	}
	return filepath.Join(folder, filepath.Base(KitFile)), nil
}

func read(file *os.File) (*zip.Reader, error) {
	info, err := file.Stat()
	if err != nil {
		return nil, err
	}
	return zip.NewReader(file, info.Size())
}

// find is a file below the one folder of an archive, nil if it is not there.
func find(z *zip.Reader, name string) *zip.File {
	for _, f := range z.File {
		if _, rest, _ := strings.Cut(f.Name, "/"); rest == name {
			return f
		}
	}
	return nil
}

// Within is an error of a kit that was unpacked into a folder, with the archive in place of
// the folder. What it wraps is kept.
func Within(archive, folder string, err error) error {
	if err == nil {
		return nil
	}
	var pairs []string
	for _, f := range []string{folder, kits.Short(folder)} {
		pairs = append(pairs, f+string(filepath.Separator), kits.Plain(archive)+": kit/", f, kits.Plain(archive)+": kit")
	}
	names := strings.NewReplacer(pairs...)
	if joined, ok := err.(interface{ Unwrap() []error }); ok {
		var list []error
		for _, one := range joined.Unwrap() {
			list = append(list, Within(archive, folder, one))
		}
		return errors.Join(list...)
	}
	var faults kits.Faults
	if !errors.As(err, &faults) {
		return &within{err, names}
	}
	faults = slices.Clone(faults)
	for i := range faults {
		faults[i].Pos.File, faults[i].Text = names.Replace(faults[i].Pos.File), names.Replace(faults[i].Text)
	}
	return faults
}

type within struct {
	error
	names *strings.Replacer
}

func (w *within) Error() string { return w.names.Replace(w.error.Error()) }
func (w *within) Unwrap() error { return w.error }

// interruptible reads until the context is over.
type interruptible struct {
	ctx context.Context
	io.Reader
}

func (s interruptible) Read(p []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.Reader.Read(p)
}

// unpack writes a file of an archive, of so many bytes at most.
func unpack(ctx context.Context, f *zip.File, name string, most int64) error {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	w, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	n, err := io.Copy(w, io.LimitReader(interruptible{ctx, r}, most+1))
	if err == nil && n > most {
		err = fmt.Errorf("it is larger than %d MB", most>>20)
	}
	if cerr := w.Close(); err == nil {
		err = cerr
	}
	return err
}
