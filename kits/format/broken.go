package format

import (
	"bytes"
	"errors"
	"io"

	"gopkg.in/yaml.v3"
)

const (
	maxSearch = 8 << 20 // bytes parsed to find a broken line: less than a second
	maxFlow   = 60      // lines over which brackets that are sound may reach
)

// brokenLine is the first line from which on a text is not YAML: with the lines above it,
// it is; with it, it never is again. The parser itself gives the head of the block. Where
// the search takes too long, that is the result.
func brokenLine(data []byte, head int) int {
	s := search{data: data, ends: lineEnds(data), left: maxSearch}
	good, bad := 0, len(s.ends)
	for {
		for bad-good > 1 {
			if middle := (good + bad) / 2; s.sound(middle) {
				good = middle
			} else {
				bad = middle
			}
		}
		// The boundary found may be where sound brackets begin that end further down.
		further := good
		for n := good + 2; n <= min(good+maxFlow, len(s.ends)); n++ {
			if s.sound(n) {
				further = n
				break
			}
		}
		switch {
		case s.left < 0:
			return head
		case further == good:
			return good + 1
		}
		good, bad = further, len(s.ends)
	}
}

// search parses the beginnings of a text.
type search struct {
	data []byte
	ends []int // of the lines
	left int   // bytes that may still be parsed
}

// sound reports whether the first lines are YAML.
func (s *search) sound(lines int) bool {
	text := s.data[:s.ends[lines-1]]
	if s.left -= len(text); s.left < 0 {
		return false
	}
	var doc yaml.Node
	err := yaml.NewDecoder(bytes.NewReader(text)).Decode(&doc)
	return err == nil || errors.Is(err, io.EOF)
}

// lineEnds lists where the lines of a text end.
func lineEnds(data []byte) []int {
	var ends []int
	for i, c := range data {
		if c == '\n' || c == '\r' && (i+1 == len(data) || data[i+1] != '\n') || i+1 == len(data) {
			ends = append(ends, i+1)
		}
	}
	return ends
}
