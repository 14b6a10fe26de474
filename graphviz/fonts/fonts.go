// Package fonts holds the fonts that drawings and documents use and embed.
package fonts

import (
	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansbolditalic"
	"codeberg.org/go-fonts/liberation/liberationsansitalic"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
)

// Sans is the font of all drawings and documents, as a TrueType file. It has the widths of
// Helvetica, which Graphviz uses for its layout.
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
