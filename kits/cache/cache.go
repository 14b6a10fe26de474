// Package cache keeps expensive results in the user's own cache folder, dryfit in
// [os.UserCacheDir]. Entries are keyed by the content they were computed from.
// Each has a keyed checksum: an entry that is damaged, or made by someone else,
// is ignored and replaced. Files beside a kit are never cache entries.
package cache

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"

	"dryfit/kits/atomicfile"
	"dryfit/kits/cache/key"
	"dryfit/kits/regular"
)

// maxEntry bounds an entry, in bytes.
const maxEntry = 512 << 20

// Entry is the place of a result in the cache.
type Entry struct {
	kind    string
	content string // name from the content it was computed from
	latest  string // name of the note which content there was last for the same files
}

// NewEntry is the entry of a kind for files at a path with some content. A
// program that computes them differently uses another kind.
func NewEntry(kind, path string, content ...[]byte) *Entry {
	if abs, err := filepath.Abs(path); err == nil {
		path = abs
	}
	h := sha256.New()
	for _, c := range content {
		fmt.Fprintf(h, "%d ", len(c))
		h.Write(c)
	}
	at := sha256.Sum256([]byte(path))
	return &Entry{kind, name(h.Sum(nil)), "at-" + name(at[:])}
}

func name(sum []byte) string { return hex.EncodeToString(sum[:16]) }

// Read returns the entry for the content or, failing that, the latest one for the
// same files: most of it may still hold. It returns nil if neither can be
// trusted.
func (e *Entry) Read() []byte {
	folder, k, err := open()
	if err != nil {
		return nil
	}
	if data := e.read(folder, k, e.content); data != nil {
		return data
	}
	if latest := e.read(folder, k, e.latest); latest != nil {
		return e.read(folder, k, string(latest))
	}
	return nil
}

// read reads a file of the cache: a signature, then the signed data.
func (e *Entry) read(folder string, k key.Key, name string) []byte {
	file := e.file(folder, name)
	data, err := regular.Read(file, maxEntry)
	if err != nil || len(data) < key.Size || !k.Signed(data[:key.Size], e.kind+"/"+name, data[key.Size:]) {
		return nil
	}
	touch(file)
	return data[key.Size:]
}

func (e *Entry) file(folder, name string) string { return filepath.Join(folder, e.kind, name) }

// Write stores data, if it is not there already, and removes old entries.
func (e *Entry) Write(data []byte) error {
	folder, k, err := open()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Join(folder, e.kind), 0o700); err != nil {
		return err
	}
	for _, f := range []struct {
		name string
		data []byte
	}{{e.content, data}, {e.latest, []byte(e.content)}} {
		if bytes.Equal(e.read(folder, k, f.name), f.data) {
			continue
		}
		file := e.file(folder, f.name)
		if info, err := os.Lstat(file); err == nil && !info.Mode().IsRegular() {
			_ = os.RemoveAll(file) // writing says if it is still there
		}
		signed := append(k.Sign(e.kind+"/"+f.name, f.data), f.data...)
		if err := atomicfile.Write(file, signed, true, atomicfile.Never); err != nil {
			return err
		}
	}
	prune(folder)
	return nil
}

// open returns the folder of the cache and its key.
func open() (string, key.Key, error) {
	folder, err := Folder()
	if err != nil {
		return "", nil, err
	}
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return "", nil, err
	}
	k, err := key.In(folder)
	return folder, k, err
}

// instead is a folder that tests use instead of the user's.
var instead string

// Use makes tests keep their caches in a folder of their own.
func Use(folder string) { instead = folder }

// Folder is where all caches are.
func Folder() (string, error) {
	if instead != "" {
		return instead, nil
	}
	user, err := os.UserCacheDir()
	return filepath.Join(user, "dryfit"), err
}
