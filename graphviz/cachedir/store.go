package cachedir

import (
	"os"
	"strings"
	"time"

	"dryfit/kits/cache/key"
)

const (
	folder = "go-graphviz" // named by the library
	ending = ".signature"  // of the file with the signature of another

	// room is more than the library writes, in bytes: some 6 MB.
	room = 16 << 20
)

// store is the folder of the library in a parent folder.
type store struct {
	parent string
	key    key.Key
	kept   map[string]bool // files that were signed when the store was opened
	any    bool            // there are such files
}

// open returns the store of this user with nothing in it that is not signed. It is nil if
// there can be none.
func open() *store {
	user, err := os.UserCacheDir()
	if err != nil {
		return nil
	}
	parent := user + "/dryfit"
	// MkdirAll leaves a folder that exists as it is; ownOnly then judges it.
	for _, dir := range []string{user, parent, parent + "/" + folder} {
		if os.MkdirAll(dir, 0o700) != nil || !ownOnly(dir) {
			return nil
		}
	}
	k, err := key.In(parent)
	if err != nil {
		return nil
	}
	s := &store{parent: parent, key: k, kept: map[string]bool{}}
	if !s.clean() || !s.writable() {
		return nil
	}
	return s
}

// clean removes all that is not signed, and reports whether it could.
func (s *store) clean() bool {
	ok := true
	s.files(func(name string) {
		switch {
		case s.signed(name):
			s.kept[name], s.any = true, true
			return
		case beingWritten(name):
			return
		}
		if os.RemoveAll(name) != nil || os.RemoveAll(name+ending) != nil {
			ok = false
		}
	})
	return ok
}

// beingWritten reports whether a file may be one that another program is writing. The
// library reads it only under its final name.
func beingWritten(name string) bool {
	info, err := os.Lstat(name)
	return err == nil && info.Mode().IsRegular() && strings.HasSuffix(name, ".tmp") && time.Since(info.ModTime()) < time.Hour
}

// files gives the paths of all files of the library. What stands in the place of one of its
// folders is given too.
func (s *store) files(each func(name string)) {
	versions, _ := os.ReadDir(s.parent + "/" + folder)
	for _, v := range versions {
		dir := s.parent + "/" + folder + "/" + v.Name()
		if !ownOnly(dir) {
			each(dir)
			continue
		}
		list, _ := os.ReadDir(dir)
		for _, e := range list {
			if !strings.HasSuffix(e.Name(), ending) {
				each(dir + "/" + e.Name())
			}
		}
	}
}

// signed reports whether a file has a signature that fits. A signature file holds that of
// the content, then that of the stamp.
func (s *store) signed(name string) bool {
	signature := regular(name + ending)
	if len(signature) == 2*key.Size {
		if stamp := stampOf(name); stamp != nil && s.key.Signed(signature[key.Size:], stampName(name), stamp) {
			return true
		}
	}
	data, stamp := contents(name)
	if len(signature) < key.Size || data == nil || !s.key.Signed(signature[:key.Size], base(name), data) {
		return false
	}
	s.write(name, signature[:key.Size], stamp)
	return true
}

// sign signs the files that are new: the library has just written them.
func (s *store) sign() {
	s.files(func(name string) {
		if s.kept[name] || strings.HasSuffix(name, ".tmp") {
			return
		}
		if data, stamp := contents(name); data != nil {
			s.write(name, s.key.Sign(base(name), data), stamp)
		}
	})
}

// write writes the signature of a file, with that of its stamp. If it cannot be written the
// library compiles again, or the next run checks all of the file.
func (s *store) write(name string, signature, stamp []byte) {
	if stamp != nil {
		signature = append(signature, s.key.Sign(stampName(name), stamp)...)
	}
	if info, err := os.Lstat(name + ending); err == nil && !info.Mode().IsRegular() {
		_ = os.RemoveAll(name + ending) // nothing is written to a pipe, or to where a link leads
	}
	_ = os.WriteFile(name+ending, signature, 0o600)
}

// stampName is the name under which the stamp of a file is signed.
func stampName(name string) string { return base(name) + " stamp" }

// base is the last element of a path; the library names files by what they were made from.
func base(name string) string { return name[strings.LastIndexByte(name, '/')+1:] }

// regular reads a regular file; nil if it is none.
func regular(name string) []byte {
	if info, err := os.Lstat(name); err != nil || !info.Mode().IsRegular() {
		return nil
	}
	data, err := os.ReadFile(name)
	if err != nil {
		return nil
	}
	return data
}

// writable reports whether the library can write into its folder; where nothing is kept
// yet, also whether there is room for what it will write.
func (s *store) writable() bool {
	f, err := os.CreateTemp(s.parent+"/"+folder, "probe-*.tmp")
	if err != nil {
		return false
	}
	defer os.Remove(f.Name())
	if !s.any {
		_, err = f.Write(make([]byte, room))
	}
	return f.Close() == nil && err == nil
}
