// Package document holds documents, worded but not yet set, and sets them: chapters of
// blocks become HTML, PDF, Markdown or text for a terminal, tables become CSV, and data
// JSON. The setters know blocks, not kits. It has more than 25 files because PDF has one
// for each kind of block, and to set that elsewhere would take a second block model.
package document

import (
	"dryfit/graphviz/picture"
	"fmt"
)

// Document is a document, worded but not yet set: chapters of blocks. All texts are
// plain text in its language; texts of the kit appear as they are and may hold
// anything.
type Document struct {
	Language string // BCP 47: "en", "de"
	Title    string
	Subtitle string
	Footer   string // stands on each page beside its number: kit, revision
	Fixed    Fixed
	Chapters []Chapter
}

// Fixed are the few words that setting itself needs.
type Fixed struct {
	Contents string // heading of the table of contents
	PageOf   string // "page %[1]s of %[2]s"
	Skip     string // link for the keyboard: straight to the steps
	Step     string // "Step"
	Take     string // heads what is new in a step
	Off      string // how many of an item: "{n} off"
	Tick     string // what a tick square is for one who cannot see it
}

// Chapter begins on a new page.
type Chapter struct {
	ID     string // unique in the book, letters, digits and hyphens
	Title  string // in the contents and the bookmarks; empty for the front page
	Blocks []Block
}

// Block is one of [Heading], [Text], [Facts], [Bullets], [Ticks], [Message],
// [Table], [Figure], [Step] and [Entry].
type Block interface{ block() }

// Heading is a heading within a chapter.
type Heading string

// Text is a paragraph.
type Text string

// Facts are names with values, as on the front page.
type Facts []Fact

// Add adds a fact, its value put together as fmt.Sprintf does.
func (f *Facts) Add(name, format string, args ...any) {
	*f = append(*f, Fact{name, fmt.Sprintf(format, args...)})
}

// Fact is a name and its value.
type Fact struct{ Name, Value string }

// Bullets is a list.
type Bullets []string

// Ticks is a framed list of things to tick off.
type Ticks struct {
	Title string
	Items []string
}

// Message is a safety message. The signal word is by meaning; a notice is about
// damage only and has no triangle.
type Message struct {
	Signal string // as printed: WARNING
	Alert  bool   // the safety alert triangle goes with it
	Text   string
	Short  bool // the reminder before an action, not the whole message
}

// Table has a row of heads and rows of cells. Rows are not broken over pages, and
// heads stand again on each page.
type Table struct {
	Caption string
	Head    []string
	Widths  []float64 // shares of the width, one for each column
	Rows    []Row
}

// Row is a row of a table.
type Row struct {
	ID    string // what a link can lead to; may be empty
	Cells []Cell
}

// Cell holds a text, a picture, or links, one after the other.
type Cell struct {
	Text    string
	Picture *picture.Picture
	Alt     string // of the picture
	Links   []Link
	Tick    bool // a tick square
}

// Link leads to another place in the book.
type Link struct{ Text, ID string }

// Figure is a picture with what it shows in words.
type Figure struct {
	Picture *picture.Picture
	Alt     string
	Caption string
	High    float64 // at most so high in PDF, mm; 0 for as high as a page allows
}

// StepID is the ID of the step with a number, to link to.
func StepID(number int) string { return fmt.Sprintf("step-%d", number) }

// Step is one numbered step. It is not broken over pages if it fits on one.
type Step struct {
	ID       string
	Number   int
	Place    string   // in its sub-build: "A, 3 of 9"
	First    []string // done before the action: what is taken off for it
	Title    string   // the action, in the imperative
	Then     []string // done after the action: what is put back
	Before   []Message
	LastCall *Ticks // before a step that shuts something for good
	Needs    []Item // what is new in this step, at one scale
	Figure   *Figure
	Notes    []string // fixing, waits, paint, what the kit says
	Signs    []string // short words in a frame: turned over, do not glue, mirrored
}

// Item is a part or a piece of hardware that is new in a step.
type Item struct {
	Ref     string // its number
	Name    string
	Count   int
	Picture *picture.Picture // may be nil
	Alt     string
	Link    string // ID of its row in the parts list
}

// Entry is something with lists under it, such as a finding with its reasons.
type Entry struct {
	Title string // may be empty
	Texts []string
	Lists []List
}

// List is a list under an entry.
type List struct {
	Title    string // may be empty
	Numbered bool
	Items    []string // may be none: then the title says why
}

func (Heading) block() {}
func (Text) block()    {}
func (Facts) block()   {}
func (Bullets) block() {}
func (Ticks) block()   {}
func (Message) block() {}
func (Table) block()   {}
func (Figure) block()  {}
func (Step) block()    {}
func (Entry) block()   {}
