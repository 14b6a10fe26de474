// Package key signs what dryfit keeps in the user's own cache folder, so that
// data put there by someone else, or damaged, is not trusted.
//
// The package that prepares the folder of the drawing library imports it, and
// must be initialised before that library, so it imports little; see
// graphviz/cachedir.
package key

import (
	"crypto/hmac"
	"crypto/sha256"
	"errors"
	"os"
	"strconv"
)

// Size is the length of a signature, in bytes.
const Size = sha256.Size

// Key is the secret of a user. It is made once, and only the user can read it.
type Key []byte

// In returns the key of a cache folder, and creates one if there is none that can
// be trusted.
func In(folder string) (Key, error) {
	name := folder + "/key"
	if k, err := read(name); err == nil {
		return k, nil
	}
	if err := create(name); err != nil {
		return nil, err
	}
	return read(name)
}

// read reads a key that belongs to this user alone.
func read(name string) (Key, error) {
	info, err := os.Lstat(name)
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() || info.Size() != Size || !Private(info) {
		return nil, errors.New(name + " is not a key of this user alone")
	}
	k, err := os.ReadFile(name)
	if err == nil && len(k) != Size {
		err = errors.New(name + " was replaced meanwhile")
	}
	return k, err
}

// create replaces the key, whatever is there. If two programs do so at the same
// time, one may lose what it signed, which is then made again.
func create(name string) error {
	k := make([]byte, Size)
	if err := random(k); err != nil {
		return err
	}
	tmp := name + "-" + strconv.Itoa(os.Getpid())
	_ = os.Remove(tmp) // of a program that was killed
	f, err := os.OpenFile(tmp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	if err != nil {
		return err
	}
	defer os.Remove(tmp)
	_, err = f.Write(k)
	if cerr := f.Close(); err == nil {
		err = cerr
	}
	if err != nil {
		return err
	}
	if _, err := read(name); err == nil {
		return nil // another program was faster
	}
	return os.Rename(tmp, name)
}

// Sign returns the signature of data under a name.
func (k Key) Sign(name string, data []byte) []byte {
	h := hmac.New(sha256.New, k)
	h.Write([]byte(name + "\x00"))
	h.Write(data)
	return h.Sum(nil)
}

// Signed reports whether a signature matches data under a name.
func (k Key) Signed(signature []byte, name string, data []byte) bool {
	return hmac.Equal(signature, k.Sign(name, data))
}
