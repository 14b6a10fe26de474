package document

import (
	"fmt"
	"io"
	"os"
	"strings"

	"golang.org/x/term"
)

// Report is a document with the same facts for programs.
type Report struct {
	Document *Document
	Sheet    [][]string // for CSV, the heads first; nil for none
	Data     any        // for JSON
}

// Formats lists what a report can be written as, by name. CSV is there only for one
// with a sheet.
func Formats(sheet bool) []string {
	if sheet {
		return []string{"text", "markdown", "html", "pdf", "csv", "json"}
	}
	return []string{"text", "markdown", "html", "pdf", "json"}
}

// Write sets a report in a format, by its name.
func Write(w io.Writer, format string, r Report) error {
	var data []byte
	var err error
	switch format {
	case "text":
		return WriteText(w, r.Document)
	case "markdown":
		data = []byte(r.Document.Markdown())
	case "html":
		data, err = r.Document.HTML()
	case "pdf":
		data, err = r.Document.PDF()
	case "csv":
		return writeCSV(w, r.Sheet)
	case "json":
		return WriteJSON(w, r.Data)
	default:
		return fmt.Errorf("there is no format %q; there are %s", format, strings.Join(Formats(true), ", "))
	}
	if err == nil {
		_, err = w.Write(data)
	}
	return err
}

// WriteText sets a document as text, with bold headings on a terminal that wants them
// (https://no-color.org).
func WriteText(w io.Writer, d *Document) error {
	bold := IsTerminal(w) && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	_, err := io.WriteString(w, d.Text(bold))
	return err
}

// IsTerminal reports whether somebody looks at what is written.
func IsTerminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}
