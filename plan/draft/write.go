package draft

import (
	"fmt"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan/blocking"
	"dryfit/plan/project"
)

func (d *draft) line(format string, args ...any) { fmt.Fprintf(&d.out, format+"\n", args...) }

// writeParts writes the parts, with the sizes of their first copies.
func (d *draft) writeParts() {
	d.line("parts:")
	quantity := map[string]int{}
	for _, id := range d.ids {
		part, _ := project.CopyOf(id)
		quantity[part]++
	}
	done := map[string]bool{}
	for i, id := range d.ids {
		part, number := project.CopyOf(id)
		if d.Pieces[i].Triangles == 0 || done[part] {
			continue
		}
		done[part] = true
		head, file := "", ""
		if number != "" {
			head = fmt.Sprintf("quantity: %d, ", quantity[part])
		}
		if d.files[i] != "" {
			file = ", mesh: " + quote(d.files[i])
		}
		size := d.Pieces[i].Size
		d.line("  %s: {%ssize: [%s, %s, %s]%s}", part, head, d.mm(size[0]), d.mm(size[1]), d.mm(size[2]), file)
	}
}

// mm writes a length in the unit of the draft; a part always has some thickness.
func (d *draft) mm(x float64) string {
	if d.unit == 1 {
		return english.Number(max(x, 0.01), 2)
	}
	return english.Number(max(x, 0.01)/d.unit, 7)
}

func (d *draft) writeJoins() {
	if len(d.joins) > 0 {
		d.line("")
		d.line("joins:")
	}
	for _, j := range d.joins {
		d.line("  - %s", d.entry(j))
	}
}

func (d *draft) entry(j join) string {
	var b strings.Builder
	if j.close {
		fmt.Fprintf(&b, "{close: [%s, %s]", d.ids[j.p], d.ids[j.q])
	} else {
		fmt.Fprintf(&b, "{fit: %s, to: %s", d.ids[j.p], d.ids[j.q])
		if j.bench || d.carries(j.p) > 1 {
			b.WriteString(", bench: true")
		}
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

// writeSpaces writes the hollows that something closes and that hold something.
func (d *draft) writeSpaces(hollows []blocking.Hollow) {
	head := false
	for i := range hollows {
		h := &hollows[i]
		var holds []string
		for _, p := range h.Holds {
			if d.parent[p] >= 0 {
				holds = append(holds, d.ids[p])
			}
		}
		if len(h.Closers) == 0 || len(holds) == 0 {
			continue
		}
		if !head {
			d.line("")
			d.line("spaces:")
			head = true
		}
		d.line("  %s:", d.Spaces[i].Name)
		d.line("    closed-by:")
		for k := range h.Closers {
			if c := &h.Closers[k]; c.WholeSide() || c.W == 0 || c.H == 0 {
				d.line("      - %s", d.ids[c.Piece])
			} else {
				d.line("      - {piece: %s, opening: [%s, %s], facing: %s}", d.ids[c.Piece], d.mm(c.W), d.mm(c.H), geom.AxisName(c.Axis))
			}
		}
		d.line("    holds: [%s]", strings.Join(holds, ", "))
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
