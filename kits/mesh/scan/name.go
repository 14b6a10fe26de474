package scan

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Quote shows what a file says, short and harmless on a terminal.
func Quote[T string | []byte](s T) string {
	const most = 40
	text := string(s[:min(len(s), 4*most)])
	if r := []rune(text); len(r) > most {
		text = string(r[:most]) + "..."
	}
	return strconv.Quote(text)
}

// MaxName is the longest name that is kept, in bytes.
const MaxName = 200

// CleanName trims a name and removes control characters and invalid UTF-8.
func CleanName(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError, unicode.Is(unicode.Cf, r):
			return -1
		case unicode.IsSpace(r), unicode.IsControl(r):
			return ' '
		}
		return r
	}, s[:min(len(s), 4*MaxName)])
	s = strings.Join(strings.Fields(s), " ")
	for len(s) > MaxName {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
	}
	return s
}
