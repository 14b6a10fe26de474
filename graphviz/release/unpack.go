package release

import (
	"archive/zip"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"dryfit/kits"
)

// maxUnpacked limits each file that is unpacked, in bytes: more than any kit has in meshes.
const maxUnpacked = 8 << 30

// UnpackKit unpacks the kit of a release, with its meshes, into a folder and returns its
// file. Nothing else of the archive is looked at. The error says that it is no release.
func UnpackKit(archive, folder string) (string, error) {
	z, err := zip.OpenReader(archive)
	if err != nil {
		return "", fmt.Errorf("%s cannot be read as a release: %w", kits.Plain(archive), err)
	}
	defer z.Close()
	for _, name := range []string{KitFile, "kit/" + meshesName} {
		f := find(z, name)
		if f == nil {
			return "", fmt.Errorf("%s is not a release: it has no %s", kits.Plain(archive), name)
		}
		if err := unpack(f, filepath.Join(folder, filepath.Base(name))); err != nil {
			return "", fmt.Errorf("%s: %s: %w", kits.Plain(archive), name, err)
		}
	}
	return filepath.Join(folder, filepath.Base(KitFile)), nil
}

// find is a file below the one folder of an archive, nil if it is not there.
func find(z *zip.ReadCloser, name string) *zip.File {
	for _, f := range z.File {
		if _, rest, _ := strings.Cut(f.Name, "/"); rest == name {
			return f
		}
	}
	return nil
}

func unpack(f *zip.File, name string) error {
	r, err := f.Open()
	if err != nil {
		return err
	}
	defer r.Close()
	w, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	n, err := io.Copy(w, io.LimitReader(r, maxUnpacked+1))
	if err == nil && n > maxUnpacked {
		err = fmt.Errorf("it is larger than %d GB", maxUnpacked>>30)
	}
	if cerr := w.Close(); err == nil {
		err = cerr
	}
	return err
}
