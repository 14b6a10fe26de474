package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// quote shows what a file says, short and harmless on a terminal.
func quote[T string | []byte](s T) string {
	const most = 40
	text := string(s[:min(len(s), 4*most)])
	if r := []rune(text); len(r) > most {
		text = string(r[:most]) + "..."
	}
	return strconv.Quote(text)
}

// maxName is the longest name that is kept, in bytes.
const maxName = 200

// cleanName trims a name and takes control characters, and what is not UTF-8, out
// of it.
func cleanName(s string) string {
	s = strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError, unicode.Is(unicode.Cf, r):
			return -1
		case unicode.IsSpace(r), unicode.IsControl(r):
			return ' '
		}
		return r
	}, s[:min(len(s), 4*maxName)])
	s = strings.Join(strings.Fields(s), " ")
	for len(s) > maxName {
		_, n := utf8.DecodeLastRuneInString(s)
		s = s[:len(s)-n]
	}
	return s
}

// maxLine is the longest line of a text file that is read, in bytes.
const maxLine = 1 << 20

// lines gives out the lines of a text file, whatever they end in.
type lines struct {
	r    io.Reader
	buf  []byte
	rest []byte // what of buf is not given out yet
	eof  bool
	n    int // number of the line given out last
}

func newLines(r io.Reader) *lines { return &lines{r: r, buf: make([]byte, 1<<18)} }

// next gives out a line without its end, valid until the next call. At the end of
// the file it returns io.EOF.
func (l *lines) next() ([]byte, error) {
	l.n++
	from := 0
	for {
		if i := lineEnd(l.rest[from:]); i >= 0 {
			i += from
			after := i + 1
			if l.rest[i] == '\r' {
				if after == len(l.rest) && !l.eof { // the \n may not have been read yet
					if err := l.fill(); err != nil {
						return nil, err
					}
					from = i
					continue
				}
				if after < len(l.rest) && l.rest[after] == '\n' {
					after++
				}
			}
			line := l.rest[:i]
			l.rest = l.rest[after:]
			return line, nil
		}
		from = len(l.rest)
		if l.eof {
			if from == 0 {
				l.n--
				return nil, io.EOF
			}
			line := l.rest
			l.rest = nil
			return line, nil
		}
		if err := l.fill(); err != nil {
			return nil, err
		}
	}
}

func lineEnd(b []byte) int {
	n := bytes.IndexByte(b, '\n')
	if n < 0 {
		return bytes.IndexByte(b, '\r')
	}
	if r := bytes.IndexByte(b[:n], '\r'); r >= 0 {
		return r
	}
	return n
}

// fill reads more behind the rest.
func (l *lines) fill() error {
	if len(l.rest) == len(l.buf) {
		if len(l.buf) > maxLine {
			return fmt.Errorf("line %d is longer than 1 MB, which no exporter writes", l.n)
		}
		l.buf = append(l.buf, make([]byte, len(l.buf))...)
		l.rest = l.buf[:len(l.rest)]
	}
	n := copy(l.buf, l.rest)
	got, err := io.ReadFull(l.r, l.buf[n:])
	l.rest = l.buf[:n+got]
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		l.eof = true
		return nil
	}
	return err
}

// word cuts the first word off a line. It is empty at the end of the line.
func word(line []byte) (first, rest []byte) {
	i := 0
	for i < len(line) && isBlank(line[i]) {
		i++
	}
	j := i
	for j < len(line) && !isBlank(line[j]) {
		j++
	}
	return line[i:j], line[j:]
}

func isBlank(c byte) bool { return c == ' ' || c == '\t' || c == '\f' || c == '\v' }

// is compares a word with one in lower-case letters.
func is(w []byte, lower string) bool {
	if len(w) != len(lower) {
		return false
	}
	for i := range w {
		c := w[i]
		if c >= 'A' && c <= 'Z' {
			c += 'a' - 'A'
		}
		if c != lower[i] {
			return false
		}
	}
	return true
}

// skipMark takes the UTF-8 byte order mark off the head of a file.
func skipMark(head []byte) []byte { return bytes.TrimPrefix(head, []byte("\xEF\xBB\xBF")) }

// foreign says what a file is when it is text in another encoding, or no text.
// Empty means that it may be text.
func foreign(head []byte) string {
	switch {
	case bytes.HasPrefix(head, []byte("\xFF\xFE")), bytes.HasPrefix(head, []byte("\xFE\xFF")):
		return "is text in UTF-16, which is not read; save it as plain text (UTF-8)"
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return "is a zip archive, as 3MF files are; give it the ending .3mf, or unpack it"
	case bytes.HasPrefix(head, []byte("\x1F\x8B")):
		return "is compressed; unpack it first"
	}
	if zero := bytes.IndexByte(head, 0); zero >= 0 {
		return fmt.Sprintf("is not text: byte %d is zero", zero)
	}
	return ""
}
