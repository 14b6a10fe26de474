package key

import (
	"os"
	"syscall"
)

// random fills a key. The package crypto/rand would be ready too late.
func random(k []byte) error {
	var provider syscall.Handle
	if err := syscall.CryptAcquireContext(&provider, nil, nil, syscall.PROV_RSA_FULL, syscall.CRYPT_VERIFYCONTEXT|syscall.CRYPT_SILENT); err != nil {
		return err
	}
	defer syscall.CryptReleaseContext(provider, 0)
	return syscall.CryptGenRandom(provider, uint32(len(k)), &k[0])
}

// Private is left to the access rights of the user's own folder.
func Private(os.FileInfo) bool { return true }
