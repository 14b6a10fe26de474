package help

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"dryfit/kits"
	"dryfit/plan/explain"
)

func text(t *testing.T, name string) string {
	t.Helper()
	topic, known := Find(name)
	if !known {
		t.Fatalf("no topic %s", name)
	}
	return string(topic.Markdown())
}

// Every file is a topic, and every topic is titled and can be set.
func TestTopics(t *testing.T) {
	list, err := fs.Glob(files, "topics/*")
	if err != nil {
		t.Fatal(err)
	}
	if len(list) != len(names) {
		t.Errorf("%d files, %d topics", len(list), len(names))
	}
	for _, topic := range Topics() {
		if !strings.HasPrefix(string(topic.Markdown()), "# "+topic.Title+"\n\n") || topic.Title == "" {
			t.Errorf("%s: no title", topic.Name)
		}
		var b strings.Builder
		if err := topic.WriteText(&b); err != nil {
			t.Fatal(err)
		}
		for _, mark := range []string{"|---", "**", "```", "\n#", "\n\n\n"} {
			if strings.Contains(b.String(), mark) {
				t.Errorf("%s: %q is left in the text", topic.Name, mark)
			}
		}
	}
}

// A topic for a terminal: code stays, a narrow table is one, a wide one becomes entries.
func TestText(t *testing.T) {
	topic := Topic{Name: "x", Title: "A title", text: "Some `to` **bold**\ntext.\n\n```sh\na  b\n\nc\n```\n\n## More\n\n- one\n- two\n\n" +
		"| a | b |\n|---|---|\n| `x` | y |\n\n| key | value | meaning |\n|---|---|---|\n| k | " + strings.Repeat("v", widest) + " | m |\n"}
	var b strings.Builder
	if err := topic.WriteText(&b); err != nil {
		t.Fatal(err)
	}
	want := "A title\nSome `to` bold text.\n\n  a  b\n\n  c\n\nMore\n  - one\n  - two\n\n  a  b\n  x  y\n\n  k: " + strings.Repeat("v", widest) + "\n      m\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}

// The topics are written as Markdown, over what was written before and nothing else.
func TestWrite(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	for range 2 {
		if err := Write(dir, false); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(filepath.Join(dir, "files.md"))
	if err != nil || !strings.Contains(string(data), "\n# Files: ") {
		t.Errorf("%v: %.80s", err, data)
	}
	own := filepath.Join(dir, "json.md")
	if err := os.WriteFile(own, []byte("mine"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := Write(dir, false); err == nil || !strings.Contains(err.Error(), "was not written by dryfit") {
		t.Errorf("over another file: %v", err)
	}
}

// The topic kit-file has the reference of the program, and its example has no finding.
func TestKitFile(t *testing.T) {
	topic := text(t, "kit-file")
	if !strings.Contains(topic, strings.TrimSpace(kits.Reference())) {
		t.Error("the reference is not that of dryfit schema --reference")
	}
	_, example, _ := strings.Cut(topic, "```yaml\n")
	example, _, _ = strings.Cut(example, "```")
	kit, err := kits.Read("kit-file.md", []byte(example))
	if err != nil {
		t.Fatalf("the example kit: %v", err)
	}
	report, err := explain.Check(kit)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range report.Findings {
		t.Errorf("the example kit: %s %s: %s", f.Grade, f.Kind, f.Text)
	}
	cost := text(t, "order")
	for _, term := range report.Sequence.Cost {
		if row := fmt.Sprintf("| %s | %g | %s |", term.Name, term.Weight, term.Means); !strings.Contains(cost, row) {
			t.Errorf("the topic order lacks the row %s", row)
		}
	}
}

// The topic findings explains every kind that the program has.
func TestFindings(t *testing.T) {
	topic := text(t, "findings")
	kinds := []string{"file"}
	for _, file := range []string{"plan/finding.go", "plan/next/findings.go", "plan/rescale/report.go"} {
		list := findingKinds(t, file)
		if len(list) < 3 {
			t.Errorf("%s: only %q", file, list)
		}
		kinds = append(kinds, list...)
	}
	for _, kind := range kinds {
		if !strings.Contains(topic, "\n| `"+kind+"` | ") {
			t.Errorf("the kind %s is not explained", kind)
		}
	}
	for _, row := range regexp.MustCompile("(?m)^\\| `([a-z-]+)` \\|").FindAllStringSubmatch(topic, -1) {
		if !slices.Contains(kinds, row[1]) {
			t.Errorf("the program has no kind %s", row[1])
		}
	}
}

// findingKinds are the constants of a file below the comment "Kinds of findings".
func findingKinds(t *testing.T, file string) []string {
	t.Helper()
	f, err := parser.ParseFile(token.NewFileSet(), filepath.Join("..", "..", filepath.FromSlash(file)), nil, parser.ParseComments)
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for _, decl := range f.Decls {
		decl, is := decl.(*ast.GenDecl)
		if !is || !strings.HasPrefix(decl.Doc.Text(), "Kinds of findings") {
			continue
		}
		for _, spec := range decl.Specs {
			for _, v := range spec.(*ast.ValueSpec).Values {
				if lit, is := v.(*ast.BasicLit); is && lit.Kind == token.STRING {
					text, err := strconv.Unquote(lit.Value)
					if err != nil {
						t.Fatal(err)
					}
					list = append(list, text)
				}
			}
		}
	}
	return list
}
