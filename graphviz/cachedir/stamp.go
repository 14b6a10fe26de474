package cachedir

import (
	"hash/crc32"
	"io"
	"os"
)

// stampOf describes the file that a signature was checked for, so that the next run need not
// check all of it again, which takes longer than all else at the start of a small command.
// It holds what the file system says of the file, its number and the time of its last
// change among them, which no program can set: whoever writes to it, or puts another in its
// place, gets another stamp. A checksum of the content tells damage on the disk. The stamp
// is signed, as the whole is: without the key nobody can make one for a file of his own. It
// is nil where the system does not say so much.
func stampOf(name string) []byte {
	return stamped(name, func(sum io.Writer) bool {
		f, err := os.Open(name)
		if err != nil {
			return false
		}
		defer f.Close()
		_, err = io.CopyBuffer(sum, struct{ io.Reader }{f}, make([]byte, 1<<17))
		return err == nil
	})
}

// contents reads a file with its stamp. The data is nil if it is no regular file.
func contents(name string) (data, stamp []byte) {
	stamp = stamped(name, func(sum io.Writer) bool {
		data = regular(name)
		_, err := sum.Write(data)
		return err == nil && data != nil
	})
	return data, stamp
}

// stamped makes a stamp of a file while it is read, nil if it changes meanwhile.
func stamped(name string, read func(sum io.Writer) bool) []byte {
	before, err := os.Lstat(name)
	sum := crc32.NewIEEE()
	if err != nil || !before.Mode().IsRegular() || !read(sum) {
		return nil // a pipe is not opened, which could take forever
	}
	stamp := identity(before)
	after, err := os.Lstat(name)
	if err != nil || stamp == nil || string(identity(after)) != string(stamp) {
		return nil
	}
	return sum.Sum(stamp)
}

// number appends a number to a stamp.
func number(b []byte, n int64) []byte {
	for range 8 {
		b = append(b, byte(n))
		n >>= 8
	}
	return b
}
