// Package plain makes text from files safe to show on a terminal.
package plain

import (
	"errors"
	"fmt"
	"io/fs"
	"strings"
	"unicode"
)

// Text returns s with every character that could steer a terminal or reorder text
// written as an escape.
func Text(s string) string {
	if strings.IndexFunc(s, Steers) < 0 {
		return s
	}
	var b strings.Builder
	for _, r := range s {
		if Steers(r) {
			fmt.Fprintf(&b, "\\u%04x", r)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// Lines is [Text] for a text of several lines.
func Lines(s string) string {
	lines := strings.Split(strings.TrimSpace(s), "\n")
	for i, l := range lines {
		lines[i] = Text(l)
	}
	return strings.Join(lines, "\n")
}

// Steers reports whether r is a control character or one that overrides the
// direction of text (Unicode Standard Annex 9: embeddings, overrides, isolates).
func Steers(r rune) bool {
	return unicode.IsControl(r) || r >= 0x202A && r <= 0x202E || r >= 0x2066 && r <= 0x2069 || r == 0xFEFF || r == 0x2028 || r == 0x2029
}

// PathError makes the path in an error safe to show, and leaves out what was being done
// to it.
func PathError(err error) error {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return fmt.Errorf("%s: %w", Text(pe.Path), pe.Err)
	}
	return err
}
