// Package fonts holds the fonts that are painted with and embedded.
package fonts

import (
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansbolditalic"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// Sans is the font of all drawings and booklets, as a TrueType file. Its widths are
// those of Helvetica, with which Graphviz lays out.
func Sans(bold, italic bool) []byte {
	switch {
	case bold && italic:
		return liberationsansbolditalic.TTF
	case bold:
		return liberationsansbold.TTF
	case italic:
		return liberationsansitalic.TTF
	}
	return liberationsansregular.TTF
}
