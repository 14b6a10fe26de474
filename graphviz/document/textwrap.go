package document

import (
	"strings"
	"unicode/utf8"

	"dryfit/graphviz/picture"
)

// LineWidth is where text for a terminal is wrapped, in characters.
const LineWidth = 100

// wrapped puts a text into lines; the first starts with first, the others with rest.
// No word is broken. What could steer a terminal is taken out.
func wrapped(first, rest, text string) []string {
	var lines []string
	line, empty := first, true
	for _, word := range strings.Fields(oneLine(text)) {
		if !empty && length(line)+1+length(word) > LineWidth {
			lines = append(lines, line)
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	return append(lines, line)
}

// oneLine is a text without line ends, and without what could steer a terminal.
func oneLine(s string) string { return strings.Join(strings.Fields(picture.Plain(s)), " ") }

// length counts the characters of a text.
func length(s string) int { return utf8.RuneCountInString(s) }

// padded fills a text up with blanks, behind it or before it.
func padded(s string, width int, right bool) string {
	fill := strings.Repeat(" ", max(0, width-length(s)))
	if right {
		return fill + s
	}
	return s + fill
}
