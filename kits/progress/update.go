package progress

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"

	"github.com/rogpeppe/go-internal/lockedfile"

	"dryfit/kits/atomicfile"
	"dryfit/kits/plain"
	"dryfit/kits/regular"
)

// Update changes a progress file on disk. change gets the file as it is and returns what it
// is to be; other processes that update it wait for that. The file as written is kept
// beside it once more, under [Path] with .bak, which is also what is locked.
func Update(path string, change func(*File) (*File, error)) error {
	lock, err := lockBackup(path)
	if err != nil {
		return err
	}
	defer lock.Close()
	before, err := ReadFile(path)
	if err != nil {
		return err
	}
	after, err := change(before)
	if err != nil || after.Same(before) {
		return err
	}
	text := ended(after.text)
	if err := atomicfile.Write(path, text, true, nil); err != nil {
		return err
	}
	if err := replace(lock, text); err != nil {
		return fmt.Errorf("%s is written, but not its copy: %w", plain.Text(path), plain.PathError(err))
	}
	return nil
}

// lockBackup opens and locks the last whole file. A link there could lead to a file that is
// none of ours.
func lockBackup(path string) (*lockedfile.File, error) {
	name := backup(path)
	before, err := os.Lstat(name)
	if err == nil {
		err = regular.Check(name, before)
	}
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, plain.PathError(err)
	}
	f, err := lockedfile.OpenFile(name, os.O_RDWR|os.O_CREATE, 0o666)
	if err != nil {
		return nil, fmt.Errorf("%w; it is locked while progress is recorded", plain.PathError(err))
	}
	now, err := f.Stat()
	if err == nil && before != nil && !os.SameFile(before, now) {
		err = fmt.Errorf("%s was replaced meanwhile; run again", plain.Text(name))
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// replace writes the content of an open file anew. When that is cut short, the file of which
// it is a copy is whole.
func replace(f *lockedfile.File, text []byte) error {
	if err := f.Truncate(0); err != nil {
		return err
	}
	_, err := f.WriteAt(text, 0)
	return err
}

// Same reports whether two files say the same in the same words.
func (f *File) Same(g *File) bool { return bytes.Equal(f.text, g.text) }
