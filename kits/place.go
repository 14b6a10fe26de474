package kits

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// Pos is a place in a kit file. Line and Col count from 1, Col in characters.
type Pos struct {
	File      string
	Line, Col int
}

// String is file:line:column, or the file alone when no line is known.
func (p Pos) String() string {
	if p.Line == 0 {
		return Plain(p.File)
	}
	return fmt.Sprintf("%s:%d:%d", Plain(p.File), p.Line, p.Col)
}

func (p Pos) before(q Pos) bool {
	if p.Line != q.Line {
		return p.Line < q.Line
	}
	return p.Col < q.Col
}

// Fault is one thing that is wrong with a kit file.
type Fault struct {
	Pos  Pos
	Text string // what is wrong and what to do
}

func (f Fault) Error() string { return f.Pos.String() + ": " + f.Text }

// Faults is everything that is wrong with a kit file, in the order of the file.
type Faults []Fault

// Error lists the faults, one a line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, one := range f {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// maxFaults bounds how many faults of one file are kept: enough for any honest
// file, and a hostile one cannot make the report larger than itself.
const maxFaults = 1000

func (f *Faults) add(p Pos, format string, args ...any) {
	if len(*f) < maxFaults {
		*f = append(*f, Fault{p, fmt.Sprintf(format, args...)})
	}
}

// err returns the faults in the order of the file, or nil if there are none.
func (f Faults) err() error {
	if len(f) == 0 {
		return nil
	}
	slices.SortStableFunc(f, func(a, b Fault) int {
		switch {
		case a.Pos.before(b.Pos):
			return -1
		case b.Pos.before(a.Pos):
			return 1
		}
		return 0
	})
	return f
}

// Plain returns s with every character that could steer a terminal or reorder
// text written as an escape, so that names from files can be shown safely.
func Plain(s string) string {
	if strings.IndexFunc(s, steers) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if steers(r) {
			fmt.Fprintf(&b, "\\u%04x", r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// steers reports whether r is a control character or one that overrides the
// direction of text (Unicode Standard Annex 9: embeddings, overrides, isolates).
func steers(r rune) bool {
	return unicode.IsControl(r) || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0xFEFF || r == 0x2028 || r == 0x2029
}
