package kits

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"dryfit/kits/format"
	"dryfit/kits/plain"
	"dryfit/kits/regular"
)

// Limits of a kit.
const (
	MaxPieces = 20_000
	maxList   = 20_000  // entries of one list or mapping
	maxNamed  = 200_000 // pieces that all names of parts together refer to
	maxInside = 16      // nesting of spaces

	maxPrinters = 20  // kinds of printers
	maxOfKind   = 100 // printers of one kind
)

// FileName is the name of the kit file in a kit's folder.
const FileName = "kit.yaml"

// Find returns the kit file for a path: the file itself, or kit.yaml in the
// folder.
func Find(path string) (string, error) {
	path = Short(path)
	info, err := os.Stat(path)
	if err != nil {
		return "", plain.PathError(err)
	}
	if !info.IsDir() {
		return path, nil
	}
	file := filepath.Join(path, FileName)
	if _, err := os.Stat(file); errors.Is(err, fs.ErrNotExist) {
		return "", fmt.Errorf("%s has no %s", plain.Text(path), FileName)
	}
	return file, nil
}

// Short is a path below the working folder as seen from there, so that positions read the
// same wherever that folder is.
func Short(path string) string {
	if !filepath.IsAbs(path) {
		return path
	}
	if here, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(here, path); err == nil && filepath.IsLocal(rel) {
			return rel
		}
	}
	return path
}

// ReadFile finds and reads the kit file that path means. The error is [Faults]
// when the file can be read but is wrong.
func ReadFile(path string) (*Kit, error) {
	file, data, err := ReadText(path)
	if err != nil {
		return nil, err
	}
	return Read(file, data)
}

// ReadText finds the kit file that path means and returns its name and text. For
// a file that is too large it returns just enough to show that.
func ReadText(path string) (file string, data []byte, err error) {
	if file, err = Find(path); err != nil {
		return "", nil, err
	}
	if data, err = regular.Read(file, format.MaxBytes+1); err != nil {
		return "", nil, err
	}
	return file, data, nil
}

// Read reads the text of a kit file; name is used for positions only. The error is
// always [Faults].
func Read(name string, data []byte) (*Kit, error) {
	root, faults := format.Tree(name, "kit file", data)
	if root == nil && faults == nil {
		faults.Add(Pos{File: name}, "is empty; start with kit: and the name of the kit")
	}
	if faults != nil {
		return nil, faults.Err()
	}
	kit, faults := format.Decode(name, root, kitShape)
	kit.File = name
	kit.resolve(&faults)
	if err := faults.Err(); err != nil {
		return nil, err
	}
	return &kit, nil
}
