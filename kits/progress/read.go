package progress

import (
	"errors"
	"io/fs"
	"path/filepath"
	"strings"

	"dryfit/kits"
	"dryfit/kits/format"
	"dryfit/kits/regular"
)

// File is a progress file as written.
type File struct {
	Name   string
	Pieces []*Entry
	Done   []kits.Ref
	Ticked []Tick   // items of last calls
	Lines  []string // the same as sentences, from files written before ticks had ids
	Tests  []*Test  // test prints, the oldest first
	Plates []Plate  // of the printing plan, in order of their numbers

	ticks []kits.Ref
	text  []byte // without the end line
	sum   string // of the end line
}

// Entry says what has been done to a piece, or to all copies of a part.
type Entry struct {
	kits.Ref
	States States
}

// Path is where the progress of a kit is kept: beside its file, with its name.
func Path(kitFile string) string {
	return strings.TrimSuffix(kitFile, filepath.Ext(kitFile)) + ".progress.yaml"
}

// ReadFile reads a progress file; one that is not there says that nothing has been
// begun. The error is [kits.Faults] when the file can be read but is wrong. A file that was
// cut off is an error that names the last whole one.
func ReadFile(path string) (*File, error) {
	data, err := regular.Read(path, format.MaxBytes+1)
	if errors.Is(err, fs.ErrNotExist) {
		return &File{Name: path}, nil
	}
	if err != nil {
		return nil, err
	}
	if err := checkWhole(path, data); err != nil {
		return nil, err
	}
	return Read(path, data)
}

// Read reads the text of a progress file; name is used for positions only. The error is
// always [kits.Faults], with all that is wrong.
func Read(name string, data []byte) (*File, error) {
	root, faults := format.Tree(name, "progress file", data)
	if faults != nil {
		return nil, faults
	}
	f := File{}
	if root != nil {
		if f, faults = format.Decode(name, root, fileShape); faults != nil {
			return nil, faults.Err()
		}
	}
	f.Name = name
	f.text, f.sum = split(data)
	for _, r := range f.ticks {
		f.ticked(r.Name)
	}
	return &f, nil
}

// maxEntries limits each list of the file.
const maxEntries = 100_000

var (
	statesShape = format.Mapped(format.Distinct(format.OneOrMore(format.Choice(stateNames...), 1, len(stateNames))), statesOf)
	piecesShape = format.Map(format.Name(format.AnyText).Says("piece"), format.Mapped(statesShape, func(s States) Entry { return Entry{States: s} }), maxEntries,
		func(e *Entry, r kits.Ref) { e.Ref = r })
	listShape = format.OrNothing(format.Distinct(format.OneOrMore(format.Name(format.AnyText), 0, maxEntries)))
	fileShape = format.Object(nil, []format.Field[File]{
		format.Key("pieces", format.OrNothing(piecesShape), func(f *File) *[]*Entry { return &f.Pieces }, "what has been done to pieces"),
		format.Key("done", listShape, func(f *File) *[]kits.Ref { return &f.Done }, "closings, wires and tasks that are done"),
		format.Key("ticked", listShape, func(f *File) *[]kits.Ref { return &f.ticks }, "items of last calls"),
		format.Key("tests", format.OrNothing(format.Entries(testShape, 0, maxTests)), func(f *File) *[]*Test { return &f.Tests }, "test prints"),
		format.Key("plates", format.OrNothing(platesShape), func(f *File) *[]Plate { return &f.Plates }, "plates of the printing plan that are kept"),
	})
)
