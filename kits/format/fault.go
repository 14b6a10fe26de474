package format

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"dryfit/kits/plain"
)

// Pos is a position in a file. Line and Col count from 1, Col in characters.
type Pos struct {
	File      string
	Line, Col int
}

// String is file:line:column, or the file alone when no line is known.
func (p Pos) String() string {
	if p.Line == 0 {
		return plain.Text(p.File)
	}
	return fmt.Sprintf("%s:%d:%d", plain.Text(p.File), p.Line, p.Col)
}

// Fault is one thing that is wrong with a file.
type Fault struct {
	Pos  Pos
	Text string // what is wrong and what to do
}

func (f Fault) Error() string { return f.Pos.String() + ": " + f.Text }

// Faults is everything that is wrong with a file, in the order of the file.
type Faults []Fault

// Error lists the faults, one a line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, one := range f {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// maxFaults limits how many faults of one file are kept: more than any honest file has,
// and few enough that a hostile one cannot make the report larger than itself.
const maxFaults = 1000

// Add adds a fault, unless there are too many.
func (f *Faults) Add(p Pos, format string, args ...any) {
	if len(*f) < maxFaults {
		*f = append(*f, Fault{p, fmt.Sprintf(format, args...)})
	}
}

// Err returns the faults in the order of the file, or nil if there are none.
func (f Faults) Err() error {
	if len(f) == 0 {
		return nil
	}
	slices.SortStableFunc(f, func(a, b Fault) int {
		return cmp.Or(cmp.Compare(a.Pos.Line, b.Pos.Line), cmp.Compare(a.Pos.Col, b.Pos.Col))
	})
	return f
}
