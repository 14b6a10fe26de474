// Package files opens the meshes of parts: a file of any supported format, or a
// folder of them.
package files

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/sync/errgroup"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/obj"
	"dryfit/kits/mesh/scan"
	"dryfit/kits/mesh/stl"
	"dryfit/kits/mesh/threemf"
	"dryfit/kits/plain"
)

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
	if u := o.unit(); !geom.Finite(u) || u <= 0 {
		return fmt.Errorf("the unit is %v mm; give a positive number", o.Unit)
	}
	return nil
}

// Open reads a mesh file: .stl, .obj or .3mf in any letter case. It gives one
// mesh for each solid, object or group with triangles in it, in file order and
// with distinct names. A single unnamed mesh gets the name of its file.
//
// No file is left open. A binary STL file is read again whenever triangles are
// needed; other formats are kept in memory. The error starts with the path and
// says where in the file the fault is.
func Open(path string, o Options) ([]*mesh.Mesh, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	in, err := scan.OnDisk(path)
	if err != nil {
		return nil, err
	}
	return Read(in, o)
}

// OpenFolder reads all mesh files directly in a folder, sorted by name. A mesh
// that is alone in its file gets the name of the file, as pieces of a kit do.
// Other files are ignored; so are hidden ones. Faults of all files are reported
// together.
func OpenFolder(path string, o Options) ([]*mesh.Mesh, error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	names, err := meshFiles(path)
	if err != nil {
		return nil, err
	}
	found := make([][]*mesh.Mesh, len(names))
	faults := make([]error, len(names))
	var all errgroup.Group
	all.SetLimit(2)
	for i, name := range names {
		all.Go(func() error {
			found[i], faults[i] = Open(filepath.Join(path, name), o)
			return nil
		})
	}
	_ = all.Wait() // each file has its own fault
	if err := joinFaults(faults); err != nil {
		return nil, err
	}
	for i, list := range found {
		if len(list) == 1 {
			list[0].Name = scan.CleanName(stem(names[i]))
		}
	}
	list := slices.Concat(found...)
	return list, differ(list)
}

// meshFiles lists the mesh files of a folder by name.
func meshFiles(folder string) ([]string, error) {
	entries, err := os.ReadDir(folder) // sorted by name
	if err != nil {
		return nil, plain.PathError(err)
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && !strings.HasPrefix(e.Name(), ".") && slices.Contains(extensions, extension(e.Name())) {
			names = append(names, e.Name())
		}
	}
	if len(names) == 0 {
		return nil, fmt.Errorf("%s: holds no .stl, .3mf or .obj file", plain.Text(folder))
	}
	return names, nil
}

// differ reports two meshes of the same name.
func differ(all []*mesh.Mesh) error {
	first := make(map[string]*mesh.Mesh, len(all))
	for _, m := range all {
		if o := first[m.Name]; o != nil {
			return fmt.Errorf("%s: its mesh %q has the same name as one in %s; rename one of them", plain.Text(m.File), m.Name, plain.Text(o.File))
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

// Read reads the meshes of a file. Errors start with its name.
func Read(in scan.File, o Options) ([]*mesh.Mesh, error) {
	list, err := read(in, o)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", plain.Text(in.Name), err)
	}
	for _, m := range list {
		m.File = in.Name
	}
	nameAll(list, scan.CleanName(stem(in.Name)))
	return list, nil
}

func read(in scan.File, o Options) ([]*mesh.Mesh, error) {
	f, err := in.Open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	list, err := readFormat(in, io.NewSectionReader(f, 0, in.Size), o.unit())
	if err == nil && len(list) == 0 {
		err = errors.New("has no triangles; export the part as a solid or a mesh")
	}
	return list, err
}

func readFormat(in scan.File, f *io.SectionReader, unit float64) ([]*mesh.Mesh, error) {
	format := extension(in.Name)
	switch {
	case !slices.Contains(extensions, format):
		return nil, errors.New("is not a mesh file by its extension; give a .stl, .3mf or .obj file")
	case in.Size == 0:
		return nil, errors.New("is empty")
	case format == ".stl":
		return stl.Read(in, f, unit)
	case format == ".obj":
		return obj.Read(f, unit)
	}
	return threemf.Read(f)
}

// extensions are those of the supported formats.
var extensions = []string{".stl", ".3mf", ".obj"}

func extension(name string) string { return strings.ToLower(filepath.Ext(name)) }

// nameAll gives every mesh its own name. Equal names are numbered: wheel-1, wheel-2.
func nameAll(list []*mesh.Mesh, file string) {
	times := make(map[string]int, len(list))
	for _, m := range list {
		if m.Name = scan.CleanName(m.Name); m.Name == "" {
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
