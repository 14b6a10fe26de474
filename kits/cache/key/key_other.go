//go:build !unix

package key

import (
	"crypto/rand"
	"os"
)

func random(k []byte) error {
	_, err := rand.Read(k)
	return err
}

// Private is left to the access rights of the user's own folder.
func Private(os.FileInfo) bool { return true }
