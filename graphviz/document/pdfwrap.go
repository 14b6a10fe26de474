package document

import "strings"

// run is a text that may lead somewhere.
type run struct{ text, link string }

// line is what stands on one line.
type line struct {
	frags []frag
	width float64
}

// frag is a stretch of a line with one link or none.
type frag struct {
	x, width   float64
	text, link string
}

// word is what is not broken unless it is wider than the column.
type word struct {
	text, link string
	space      bool // before it
	newline    bool // before it
}

// wrap breaks texts into lines that are at most as wide as asked for. One letter
// that is wider stands alone.
func (l *letters) wrap(s style, width float64, runs ...run) []line {
	var lines []line
	var now line
	space := l.width(s, " ")
	for i, w := range l.words(runs) {
		gap := 0.0
		if w.space && len(now.frags) > 0 {
			gap = space
		}
		wide := l.width(s, w.text)
		if i > 0 && w.newline || len(now.frags) > 0 && now.width+gap+wide > width {
			lines, now, gap = append(lines, now), line{}, 0
		}
		for wide > width {
			head, rest := l.split(s, w.text, width)
			if rest == "" {
				break
			}
			done := l.width(s, head)
			lines = append(lines, line{[]frag{{0, done, head, w.link}}, done})
			w.text, wide = rest, wide-done
		}
		now.add(w, gap, wide)
	}
	if len(now.frags) > 0 {
		lines = append(lines, now)
	}
	return lines
}

func (n *line) add(w word, gap, wide float64) {
	if k := len(n.frags) - 1; k >= 0 && n.frags[k].link == w.link {
		f := &n.frags[k]
		if gap > 0 {
			f.text += " "
		}
		f.text += w.text
		f.width += gap + wide
	} else {
		n.frags = append(n.frags, frag{n.width + gap, wide, w.text, w.link})
	}
	n.width += gap + wide
}

// split cuts a word so that its head fits.
func (l *letters) split(s style, text string, width float64) (head, rest string) {
	w := 0.0
	for i, r := range text {
		w += l.width(s, string(r))
		if w > width && i > 0 {
			return text[:i], text[i:]
		}
	}
	return text, ""
}

// words cuts runs at spaces and line breaks, and behind the hyphens and slashes that
// names are made of.
func (l *letters) words(runs []run) []word {
	var list []word
	space, newline := false, false
	for _, r := range runs {
		text := []rune(l.clean(r.text))
		for from := 0; from < len(text); {
			switch text[from] {
			case '\n':
				newline = true
				from++
				continue
			case ' ':
				space = true
				from++
				continue
			}
			to := wordEnd(text, from)
			list = append(list, word{string(text[from:to]), r.link, space, newline})
			space, newline = false, false
			from = to
		}
	}
	return list
}

// wordEnd is where a word that starts at from ends. A hyphen between letters or
// digits ends it; one before a number belongs to the number.
func wordEnd(text []rune, from int) int {
	for i := from; i < len(text); i++ {
		switch {
		case text[i] == ' ' || text[i] == '\n':
			return i
		case strings.ContainsRune("-/–", text[i]) && i > from && i+1 < len(text) && text[i+1] != ' ':
			return i + 1
		}
	}
	return len(text)
}
