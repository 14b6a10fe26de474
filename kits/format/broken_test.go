package format_test

import (
	"strings"
	"testing"

	"dryfit/kits/format"
)

// What is not YAML is reported at the line that is broken, not at the head of its block.
func TestBrokenLine(t *testing.T) {
	head := "kit: A\nparts:\n  p: {printed: resin,\n      size: [1,\n        2, 3]}\n"
	for what, c := range map[string]struct {
		text string
		line string
	}{
		"an open brace":              {head + "  q: {printed: resin\njoins:\n  - {fit: q, to: p}\n", "6"},
		"a list indented too far":    {head + "joins:\n  - {fit: q, to: p}\n   - {fit: p, to: q}\n", "8"},
		"a key indented too little":  {head + "  q:\n    printed: resin\n   size: [1, 2, 3]\n", "8"},
		"a tab":                      {head + "\tx: 1\n", "6"},
		"an open quote":              {head + "  q: \"resin\njoins:\n  - {fit: q, to: p}\n", "6"},
		"text after a block":         {head + "about: |\n  text\n text2\nscale: 1:32\n", "8"},
		"a bracket of another sort":  {head + "  q: [printed: resin}\njoins: []\n", "6"},
		"a word alone":               {head + "  r\n  q: {printed: resin}\n", "6"},
		"the first line":             {"kit: [A\nparts:\n  p: {printed: resin}\n", "1"},
		"the last, without an end":   {head + "joins: [", "6"},
		"lines that end in \\r\\n":   {strings.ReplaceAll(head+"  q: {\nunits: mm\n", "\n", "\r\n"), "6"},
		"between two sound brackets": {head + "   q: {printed: resin}\n  s: {printed: resin,\n      size: [1, 2, 3]}\n", "6"},
	} {
		_, faults := format.Tree("kit.yaml", "kit", []byte(c.text))
		if len(faults) != 1 || !strings.HasPrefix(faults[0].Error(), "kit.yaml:"+c.line+":1: is not YAML") {
			t.Errorf("%s: %v, want line %s", what, faults, c.line)
		}
	}
}

// A large file is searched within bounds: then the parser's own line is given.
func TestBrokenLineOfLargeFile(t *testing.T) {
	text := "kit: A\nparts:\n" + strings.Repeat("  p: {printed: resin, note: some words that are long enough}\n", 55_000) + "   q: {printed: resin}\n"
	_, faults := format.Tree("kit.yaml", "kit", []byte(text))
	if len(faults) != 1 || !strings.Contains(faults[0].Error(), "is not YAML") {
		t.Errorf("%v", faults)
	}
}
