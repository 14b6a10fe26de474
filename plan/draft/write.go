package draft

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan/project"
)

// head is what a kit file begins with.
type head struct {
	name, meshes string
	unit         string  // of its lengths
	mm           float64 // in a unit
}

// writer writes a kit file.
type writer struct {
	*draft
	head
	out bytes.Buffer
}

// text is the draft as a kit file.
func (d *draft) text(h head) []byte {
	w := &writer{draft: d, head: h}
	w.line("# A first draft from the meshes alone. Edit it: say how each part is printed, what")
	w.line("# each join is made with, what is painted when, and what must stay in reach.")
	w.line("kit: %s", quote(h.name))
	if h.unit != "mm" {
		w.line("units: %s", h.unit)
	}
	if w.Fit != kits.DefaultFit {
		w.line("fit: %s", english.Number(w.Fit/h.mm, 7))
	}
	if h.meshes != "" {
		w.line("meshes: %s", quote(filepath.ToSlash(h.meshes)))
	}
	w.line("")
	w.writeParts()
	w.writeJoins()
	w.writeSpaces()
	for _, text := range d.dropped {
		w.line("# %s", text)
	}
	return w.out.Bytes()
}

func (w *writer) line(format string, args ...any) { fmt.Fprintf(&w.out, format+"\n", args...) }

// writeParts writes the parts, with the sizes of their first copies.
func (w *writer) writeParts() {
	w.line("parts:")
	quantity := map[string]int{}
	for _, id := range w.ids {
		part, _ := project.CopyOf(id)
		quantity[part]++
	}
	done := map[string]bool{}
	for i, id := range w.ids {
		part, number := project.CopyOf(id)
		if w.Pieces[i].Triangles == 0 || done[part] {
			continue
		}
		done[part] = true
		head, file, pair := "", "", ""
		if number != "" {
			head = fmt.Sprintf("quantity: %d, ", quantity[part])
		}
		if w.files[i] != "" {
			file = ", mesh: " + quote(w.files[i])
		}
		if q, mirrored := w.pairs[i]; mirrored && q > i && number == "" {
			if _, copied := project.CopyOf(w.ids[q]); copied == "" {
				pair = ", pair: " + w.ids[q]
			}
		}
		size := w.Pieces[i].Size
		w.line("  %s: {%ssize: [%s, %s, %s]%s%s}", part, head, w.length(size[0]), w.length(size[1]), w.length(size[2]), pair, file)
	}
}

// length writes a length in the unit of the draft; a part always has some thickness.
func (w *writer) length(x float64) string {
	if w.mm == 1 {
		return english.Number(max(x, 0.01), 2)
	}
	return english.Number(max(x, 0.01)/w.mm, 7)
}

func (w *writer) writeJoins() {
	if len(w.joins) > 0 {
		w.line("")
		w.line("joins:")
	}
	for _, j := range w.joins {
		w.line("  - %s", w.entry(j))
	}
	for _, island := range w.alone {
		w.line("# nothing else is within %s mm of %s: say what is joined to what", english.Number(w.Fit, 2), strings.Join(w.namesOf(island), ", "))
	}
}

// closingStep names the step in which the halves of the base are closed on each other.
const closingStep = "closing"

func (w *writer) entry(j join) string {
	var b strings.Builder
	if j.close {
		fmt.Fprintf(&b, "{close: [%s, %s]", w.ids[j.q], w.ids[j.p])
	} else {
		fmt.Fprintf(&b, "{fit: %s, to: %s", w.ids[j.p], w.ids[j.q])
	}
	if j.bench && !j.close {
		b.WriteString(", bench: true")
	}
	if j.close {
		b.WriteString(", step: " + closingStep)
		if len(j.after) > 0 {
			fmt.Fprintf(&b, ", after: [%s]", strings.Join(w.namesOf(j.after), ", "))
		}
	}
	if j.later {
		b.WriteString(", after: [" + closingStep + "]")
	}
	if j.with != "" {
		fmt.Fprintf(&b, ", with: %s", j.with)
	}
	if j.toward != nil {
		// Precise enough to be recognised as the measured direction.
		n := func(k int) string { return english.Number(j.toward[k], 7) }
		fmt.Fprintf(&b, ", toward: [%s, %s, %s]", n(0), n(1), n(2))
	}
	if j.note != "" {
		fmt.Fprintf(&b, ", note: %s", quote(j.note))
	}
	return b.String() + "}"
}

func (w *writer) writeSpaces() {
	if len(w.spaces) > 0 {
		w.line("")
		w.line("spaces:")
	}
	for _, s := range w.spaces {
		w.line("  %s:", s.name)
		w.line("    closed-by:")
		for _, c := range s.closers {
			if c.whole {
				w.line("      - %s", w.ids[c.piece])
			} else {
				w.line("      - {piece: %s, opening: [%s, %s], facing: %s}", w.ids[c.piece], w.length(c.opening.W), w.length(c.opening.H), geom.AxisName(c.axis))
			}
		}
		if len(s.holds) > 0 {
			var names []string
			for _, p := range s.holds {
				names = append(names, w.ids[p])
			}
			w.line("    holds: [%s]", strings.Join(names, ", "))
		}
	}
}

// quote writes a YAML string.
func quote(s string) string {
	plain := s != ""
	for _, c := range s {
		plain = plain && (letter(c) || strings.ContainsRune(" -_./0123456789", c))
	}
	if plain && strings.TrimSpace(s) == s && letter(rune(s[0])) && !strings.Contains(" true false yes no on off null ", " "+strings.ToLower(s)+" ") {
		return s
	}
	var b strings.Builder
	for _, c := range s {
		switch {
		case c == '\\' || c == '"':
			b.WriteRune('\\')
			b.WriteRune(c)
		case c < ' ' || c == 0x7f:
			b.WriteByte(' ') // a kit file has no control characters
		default:
			b.WriteRune(c)
		}
	}
	return `"` + b.String() + `"`
}

func letter(c rune) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }
