package scan

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// maxLine is the longest line of a text file that is read, in bytes.
const maxLine = 1 << 20

// Lines reads a text file line by line. Lines may end in LF, CR LF or CR.
type Lines struct {
	r    io.Reader
	buf  []byte
	rest []byte // the unread part of buf
	eof  bool
	N    int // number of the last line read
}

// NewLines starts at the first line.
func NewLines(r io.Reader) *Lines { return &Lines{r: r, buf: make([]byte, 1<<18)} }

// Next returns a line without its end, valid until the next call. At the end of
// the file it returns io.EOF.
func (l *Lines) Next() ([]byte, error) {
	l.N++
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
				l.N--
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

// fill reads more after the rest.
func (l *Lines) fill() error {
	if len(l.rest) == len(l.buf) {
		if len(l.buf) > maxLine {
			return fmt.Errorf("line %d is longer than 1 MB", l.N)
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

// Word splits the first word off a line. It is empty at the end of the line.
func Word(line []byte) (first, rest []byte) {
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

// Is compares a word with one in lower-case letters.
func Is(w []byte, lower string) bool {
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
