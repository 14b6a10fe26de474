// Package help holds what there is to read about dryfit, one topic for each subject, as
// Markdown. A topic is printed for a terminal, or written as a file.
package help

import (
	"bytes"
	"embed"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/kits/atomicfile"
)

//go:embed topics
var files embed.FS

// names are the topics in the order in which they are listed.
var names = []string{
	"kit-file", "meshes", "method", "findings", "order", "time", "printing", "coupon", "scale", "progress",
	"hardware", "booklet", "page", "release", "json", "files", "exit-status",
}

// Topic is something to read about.
type Topic struct {
	Name  string // as it is asked for
	Title string // what it is about
	text  string // Markdown, below the title
}

// Topics lists all topics.
func Topics() []Topic {
	list := make([]Topic, len(names))
	for i, name := range names {
		list[i] = read(name)
	}
	return list
}

// Find finds a topic by its name.
func Find(name string) (Topic, bool) {
	for _, t := range Topics() {
		if t.Name == name {
			return t, true
		}
	}
	return Topic{}, false
}

func read(name string) Topic {
	data, err := files.ReadFile("topics/" + name + ".md")
	if err != nil {
		panic(err) // topics are part of the program
	}
	title, text, _ := strings.Cut(string(data), "\n")
	if name == "kit-file" {
		text += "\n" + kits.Reference()
	}
	return Topic{name, strings.TrimPrefix(title, "# "), strings.TrimSpace(text) + "\n"}
}

// Markdown is the topic as a file.
func (t Topic) Markdown() []byte {
	return []byte("# " + t.Title + "\n\n" + t.text)
}

// mark is the first line of the files that are written.
const mark = "<!-- " + svg.Mark + " -->\n"

func ours(old []byte) bool { return bytes.HasPrefix(old, []byte(mark)) }

// Write writes all topics as Markdown files into a folder, which is made if it does not
// exist. Force replaces files that dryfit has not written.
func Write(folder string, force bool) error {
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for _, t := range Topics() {
		file := filepath.Join(folder, t.Name+".md")
		if err := atomicfile.Write(file, append([]byte(mark), t.Markdown()...), force, ours); err != nil {
			return fmt.Errorf("topic %s: %w", t.Name, err)
		}
	}
	return nil
}
