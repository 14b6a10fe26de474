package main

import (
	"fmt"
	"io"
	"strings"
	"time"
	"unicode/utf8"
)

// printer writes lines and remembers the first error.
type printer struct {
	w   io.Writer
	err error
}

func (p *printer) line(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format+"\n", args...)
	}
}

// lineWidth is where text is wrapped.
const lineWidth = 100

// wrap writes text in lines; the first starts with first, the others with rest.
func (p *printer) wrap(first, rest, text string) {
	line, empty := first, true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > lineWidth {
			p.line("%s", line)
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	p.line("%s", line)
}

// span writes a time as people do: 45 min, 2 h, 1 h 30 min, 3 d.
func span(d time.Duration) string {
	const day = 24 * time.Hour
	switch {
	case d >= 3*day:
		s := fmt.Sprintf("%d d", d/day)
		if h := d % day / time.Hour; h > 0 {
			s += fmt.Sprintf(" %d h", h)
		}
		return s
	case d >= time.Hour:
		s := fmt.Sprintf("%d h", d/time.Hour)
		if m := d % time.Hour / time.Minute; m > 0 {
			s += fmt.Sprintf(" %d min", m)
		}
		return s
	case d >= time.Minute:
		return fmt.Sprintf("%d min", d/time.Minute)
	}
	return fmt.Sprintf("%d s", d/time.Second)
}
