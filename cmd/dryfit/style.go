package main

import (
	"io"
	"os"

	"golang.org/x/term"
)

// style sets off headings on a terminal. It is never the only sign of anything.
type style bool

// styleFor is on when w is a terminal that wants it (https://no-color.org).
func styleFor(w io.Writer) style {
	f, ok := w.(*os.File)
	return style(ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" && term.IsTerminal(int(f.Fd())))
}

func (s style) bold(text string) string {
	if !s {
		return text
	}
	return "\x1b[1m" + text + "\x1b[0m"
}
