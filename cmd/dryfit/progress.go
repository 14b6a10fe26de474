package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync"
	"time"

	"golang.org/x/term"

	"dryfit/kits"
	"dryfit/kits/english"
)

// progress shows on a terminal how far a long piece of work is, once it has taken
// a second. Elsewhere it shows nothing.
type progress struct {
	w       io.Writer
	on      bool
	mu      sync.Mutex
	what    string
	started time.Time
	shown   time.Time
	width   int
}

func newProgress(w io.Writer) *progress {
	f, ok := w.(*os.File)
	return &progress{w: w, on: ok && term.IsTerminal(int(f.Fd()))}
}

const progressBar = 30

// show shows what is being done and how far it is, from 0 to 1.
func (p *progress) show(what string, share float64) {
	if !p.on {
		return
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	now := time.Now()
	if what != p.what {
		p.what, p.started = what, now
	}
	if now.Sub(p.started) < time.Second || now.Sub(p.shown) < time.Second/10 {
		return
	}
	p.shown = now
	filled := int(share * progressBar)
	text := fmt.Sprintf("%s [%s%s] %3.0f %%%s", what, strings.Repeat("#", filled), strings.Repeat(".", progressBar-filled), 100*share, left(now.Sub(p.started), share))
	p.put(text)
}

// left is the time left, as far as it can be known.
func left(gone time.Duration, share float64) string {
	if share < 0.02 {
		return ""
	}
	rest := time.Duration(float64(gone) * (1 - share) / share).Round(time.Second)
	return ", " + english.Span(max(rest, time.Second)) + " left"
}

func (p *progress) put(text string) {
	pad := max(p.width-len(text), 0)
	p.width = len(text)
	fmt.Fprintf(p.w, "\r%s%s", text, strings.Repeat(" ", pad))
}

// warn says something on a line of its own.
func (p *progress) warn(text string) {
	p.done()
	fmt.Fprintln(p.w, "dryfit: "+kits.Plain(text))
}

// done takes the line away.
func (p *progress) done() {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.on && p.width > 0 {
		fmt.Fprintf(p.w, "\r%s\r", strings.Repeat(" ", p.width))
		p.width = 0
	}
}
