package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// MaxTriangles is the most that one file may hold.
const MaxTriangles = 200_000_000

// maxHeld is the most triangles that a file may hold whose triangles are kept in
// memory: all but binary STL.
const maxHeld = 50_000_000

// maxMeshes is the most meshes that one file may hold.
const maxMeshes = 20_000

// Options for reading.
type Options struct {
	Unit float64 // mm for one unit of formats that state none, STL and OBJ; 0 means 1
}

func (o Options) unit() float64 {
	if o.Unit == 0 {
		return 1
	}
	return o.Unit
}

func (o Options) check() error {
	if u := o.unit(); !finite(u) || u <= 0 {
		return fmt.Errorf("a unit of %v mm; give a positive number", o.Unit)
	}
	return nil
}

// OpenFile reads a mesh file: .stl, .obj or .3mf in any letter case. It gives one
// mesh for each solid, object or group with triangles in it, in the file's order
// and with different names. A file with one mesh that it does not name gives it
// its own name.
//
// Nothing is left open. A binary STL file is read again whenever triangles are
// wanted; those of the other formats are kept in memory. The error begins with the
// path and says where in the file it is wrong.
func OpenFile(path string, o Options) ([]*Mesh, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	in, err := inputFile(path)
	if err != nil {
		return nil, err
	}
	return open(in, o)
}

// OpenFolder reads all mesh files that lie directly in a folder, sorted by name. A
// mesh that is alone in its file bears the file's name, as pieces of a kit do. Other
// files are left alone; so are hidden ones. All files at fault are reported
// together.
func OpenFolder(path string, o Options) ([]*Mesh, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	names, err := meshFiles(path)
	if err != nil {
		return nil, err
	}
	found := make([][]*Mesh, len(names))
	faults := make([]error, len(names))
	each(len(names), func(i int) {
		found[i], faults[i] = OpenFile(filepath.Join(path, names[i]), o)
	})
	if err := joinFaults(faults); err != nil {
		return nil, err
	}
	for i, list := range found {
		if len(list) == 1 {
			list[0].Name = cleanName(stem(names[i]))
		}
	}
	all := slices.Concat(found...)
	return all, differ(all)
}

// meshFiles lists the mesh files of a folder by name.
func meshFiles(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder) // sorted by name
	if err != nil {
		return nil, plainPathError(err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") && reader(e.Name()) != nil {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s: holds no .stl, .3mf or .obj file", plain(folder))
	}
	return names, nil
}

// differ reports two meshes of the same name.
func differ(all []*Mesh) error {
	first := make(map[string]*Mesh, len(all))
	for _, m := range all {
		if o := first[m.Name]; o != nil {
			return fmt.Errorf("%s: its mesh %q has the name of one in %s; rename one of the two", plain(m.File), m.Name, plain(o.File))
		}
		first[m.Name] = m
	}
	return nil
}

// joinFaults puts the errors of several files together, up to twenty.
func joinFaults(faults []error) error {
	faults = slices.DeleteFunc(faults, func(err error) bool { return err == nil })
	if n := len(faults) - 20; n > 0 {
		faults = append(faults[:20:20], fmt.Errorf("and %d more files like these", n))
	}
	return errors.Join(faults...)
}

// workers is how many goroutines share a long job.
const workers = 2

// each calls do for all numbers below n, two at a time.
func each(n int, do func(i int)) {
	var next sync.Mutex
	at := 0
	take := func() int {
		next.Lock()
		defer next.Unlock()
		at++
		return at - 1
	}
	var all sync.WaitGroup
	for range min(workers, n) {
		all.Go(func() {
			for i := take(); i < n; i = take() {
				do(i)
			}
		})
	}
	all.Wait()
}

// reader is what reads the format that a file's ending tells, or nil.
func reader(name string) func(input, Options) ([]*Mesh, error) {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".stl":
		return readSTL
	case ".3mf":
		return read3MF
	case ".obj":
		return readOBJ
	}
	return nil
}

// open reads the meshes of an input and says its name in errors.
func open(in input, o Options) ([]*Mesh, error) {
	read := reader(in.file)
	if read == nil {
		return nil, fmt.Errorf("%s: is not a mesh file by its ending; give a .stl, .3mf or .obj file", plain(in.file))
	}
	list, err := openAll(in, o, read)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", plain(in.file), err)
	}
	return list, nil
}

func openAll(in input, o Options, read func(input, Options) ([]*Mesh, error)) ([]*Mesh, error) {
	if in.size == 0 {
		return nil, errors.New("is empty")
	}
	list, err := read(in, o)
	if err != nil {
		return nil, err
	}
	if len(list) == 0 {
		return nil, errors.New("holds no triangles; export the part as a solid or a mesh")
	}
	for _, m := range list {
		m.File = in.file
	}
	nameAll(list, cleanName(stem(in.file)))
	return list, nil
}

// nameAll gives every mesh a name of its own. A name that stands several times is
// counted: wheel-1, wheel-2.
func nameAll(list []*Mesh, file string) {
	times := make(map[string]int, len(list))
	for _, m := range list {
		if m.Name = cleanName(m.Name); m.Name == "" {
			m.Name = file
		}
		times[m.Name]++
	}
	taken := make(map[string]bool, len(list))
	for name, n := range times {
		taken[name] = n == 1
	}
	last := make(map[string]int)
	for _, m := range list {
		if times[m.Name] == 1 {
			continue
		}
		base := m.Name
		for {
			last[base]++
			m.Name = fmt.Sprintf("%s-%d", base, last[base])
			if !taken[m.Name] {
				break
			}
		}
		taken[m.Name] = true
	}
}

func stem(path string) string {
	name := filepath.Base(path)
	return strings.TrimSuffix(name, filepath.Ext(name))
}

// input is the bytes of a file, which may be opened many times.
type input struct {
	file string
	size int64
	open func() (inputReader, error)
}

type inputReader interface {
	io.ReaderAt
	io.Closer
}

// inputFile is a file on disk. Opening it again is an error when it is not as it
// was at first.
func inputFile(path string) (input, error) {
	info, err := os.Stat(path)
	if err != nil {
		return input{}, plainPathError(err)
	}
	if !info.Mode().IsRegular() {
		return input{}, fmt.Errorf("%s: is not a file", plain(path))
	}
	size, at := info.Size(), info.ModTime()
	return input{path, size, func() (inputReader, error) { return reopen(path, size, at) }}, nil
}

// reopen leaves the path out of its errors: it is for the caller to say.
func reopen(path string, size int64, at time.Time) (inputReader, error) {
	f, err := os.Open(path)
	if err != nil {
		var pe *os.PathError
		if errors.As(err, &pe) {
			err = pe.Err
		}
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && (info.Size() != size || !info.ModTime().Equal(at)) {
		err = errors.New("changed while it was being measured; run again")
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	return f, nil
}

// inputBytes is a file in memory; its name tells the format.
func inputBytes(name string, data []byte) input {
	return input{name, int64(len(data)), func() (inputReader, error) {
		return struct {
			io.ReaderAt
			io.Closer
		}{bytes.NewReader(data), io.NopCloser(nil)}, nil
	}}
}

func plainPathError(err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", plain(pe.Path), pe.Err)
	}
	return err
}

// plain takes what could steer a terminal out of a path.
func plain(path string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 {
			return '?'
		}
		return r
	}, path)
}
