package project

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan/blocking"
)

// draft writes a first kit file from what was measured: parts with their sizes,
// joins where they touch, in the sequence of assembly, with the direction of
// travel. name is the kit's; meshes is where they are, relative to the file.
func (s *Survey) draft(name, meshes, unit string, mmPerUnit float64, apart *blocking.Apart, spaces []Space) []byte {
	d := &draft{Survey: s, unit: mmPerUnit, base: make([]int, len(s.IDs)), parent: make([]int, len(s.IDs))}
	for i := range d.base {
		d.base[i], d.parent[i] = i, -1
	}
	d.name()
	d.join(apart)
	d.line("# A first draft from the meshes alone. Edit it: say how each part is printed, what")
	d.line("# each join is made with, what is painted when, and what must stay in reach.")
	d.line("kit: %s", quote(name))
	if unit != "mm" {
		d.line("units: %s", unit)
	}
	d.line("meshes: %s", quote(filepath.ToSlash(meshes)))
	d.line("")
	d.parts()
	if len(d.joins) > 0 {
		d.line("")
		d.line("joins:")
	}
	for _, j := range d.joins {
		d.line("  - %s", d.entry(j))
	}
	d.spaces(spaces)
	return d.out.Bytes()
}

type draft struct {
	*Survey
	unit   float64 // mm
	out    bytes.Buffer
	ids    []string // of the pieces, as the draft calls them
	files  []string // mesh: of each piece, empty if it is named after the piece
	base   []int    // of the group a piece is in: the piece that no join fits
	parent []int    // piece it is fitted to
	joins  []draftJoin
}

// draftJoin fits piece p to q, or closes their groups on each other.
type draftJoin struct {
	p, q     int
	close    bool
	together bool // what hangs on p goes in with it
	toward   *geom.Vec
	with     string
	note     string
}

func (d *draft) line(format string, args ...any) { fmt.Fprintf(&d.out, format+"\n", args...) }

// name gives pieces the ids of copies where the meshes are numbered .1, .2 and so on
// without a gap, and plain ids elsewhere.
func (d *draft) name() {
	copies := map[string][]int{}
	known := map[string]bool{}
	for i, id := range d.IDs {
		known[id] = true
		if m := copyEnding.FindStringSubmatch(id); m != nil {
			copies[m[1]] = append(copies[m[1]], i)
		}
	}
	d.ids = slices.Clone(d.IDs)
	d.files = make([]string, len(d.IDs))
	for part, list := range copies {
		whole := !known[part] && len(list) > 1
		for n := range list {
			whole = whole && known[fmt.Sprintf("%s.%d", part, n+1)]
		}
		if whole {
			continue
		}
		for _, i := range list {
			d.ids[i] = pieceID(strings.ReplaceAll(d.IDs[i], ".", "-"))
			d.files[i] = d.Pieces[i].Name
		}
	}
}

// join goes through the moves from the last to the first: each puts two groups
// together.
func (d *draft) join(apart *blocking.Apart) {
	for _, l := range apart.Locked {
		d.locked(l)
	}
	for _, m := range slices.Backward(apart.Moves) {
		d.together(m)
	}
}

// together joins what a move takes apart.
func (d *draft) together(m blocking.Move) {
	p, q := d.base[m.Pieces[0]], d.base[m.Rest[0]]
	j := draftJoin{p: p, together: len(m.Pieces) > 1}
	if len(m.Legs) == 1 {
		in := m.Legs[0].Toward
		for k := range in {
			in[k] = 0 - in[k]
		}
		j.toward = &in
	} else {
		var legs []string
		for _, l := range slices.Backward(m.Legs) {
			in := l.Toward
			for k := range in {
				in[k] = 0 - in[k]
			}
			leg := english.Direction(in)
			if !math.IsInf(l.Distance, 1) {
				leg = fmt.Sprintf("%.1f mm %s", l.Distance, leg)
			}
			legs = append(legs, leg)
		}
		j.note = "goes in by legs: " + strings.Join(legs, ", then ")
	}
	if m.Undercut > 0 {
		j.with, j.note = "screw", fmt.Sprintf("past an undercut of up to %s mm; a thread or a snap?", trim(m.Undercut))
	}
	onto, contact := d.bestContact([]int{p}, m.Rest)
	if contact > 0 || len(m.Pieces) == 1 {
		if j.q = onto; contact == 0 {
			j.q = d.nearest(p, m.Rest)
			j.note = strings.TrimPrefix(j.note+"; touches nothing that it goes to", "; ")
		}
	} else if a, b, area := d.bestPair(m.Pieces, m.Rest); area > 0 {
		j.p, j.q, j.close = a, b, true
	} else {
		j.q = d.nearest(p, m.Rest)
		j.note = "touches nothing that it goes to"
	}
	if !j.close {
		d.parent[p] = j.q
	}
	d.joins = append(d.joins, j)
	for _, x := range m.Pieces {
		d.base[x] = q
	}
}

// locked joins a group that could not be taken apart, each piece to one it touches.
func (d *draft) locked(l blocking.Lock) {
	root := l.Pieces[0]
	for _, p := range l.Pieces {
		if d.Pieces[p].Volume > d.Pieces[root].Volume {
			root = p
		}
	}
	in := []int{root}
	rest := slices.DeleteFunc(slices.Clone(l.Pieces), func(p int) bool { return p == root })
	for len(rest) > 0 {
		p, q, area := d.bestPair(rest, in)
		note := "locked"
		if area == 0 {
			p = rest[0]
			q = d.nearest(p, in)
			note = "locked; touches nothing that it goes to"
		}
		d.joins = append(d.joins, draftJoin{p: p, q: q, note: note})
		d.parent[p] = q
		in = append(in, p)
		rest = slices.DeleteFunc(rest, func(x int) bool { return x == p })
	}
	for _, p := range l.Pieces {
		d.base[p] = root
	}
}

// bestContact is the piece of some others that pieces touch most.
func (d *draft) bestContact(pieces, others []int) (onto int, contact float64) {
	_, onto, contact = d.bestPair(pieces, others)
	return onto, contact
}

func (d *draft) bestPair(pieces, others []int) (p, q int, contact float64) {
	p, q = pieces[0], others[0]
	for _, a := range pieces {
		for _, b := range others {
			pair := d.Model.Pair(a, b)
			if pair == nil {
				continue
			}
			area := pair.Contact
			if pair.Depth > 0 {
				area = max(area, 1e-6)
			}
			if area > contact {
				p, q, contact = a, b, area
			}
		}
	}
	return p, q, contact
}

// nearest is the piece of some others whose box is nearest to a piece's.
func (d *draft) nearest(p int, others []int) int {
	best, least := others[0], math.Inf(1)
	for _, o := range others {
		a, b := d.Pieces[p], d.Pieces[o]
		sum := 0.0
		for k := range 3 {
			gap := max(a.Min[k]-b.Max[k], b.Min[k]-a.Max[k], 0)
			sum += gap * gap
		}
		if sum < least {
			best, least = o, sum
		}
	}
	return best
}

func (d *draft) parts() {
	d.line("parts:")
	done := map[string]bool{}
	for i, id := range d.ids {
		if d.Pieces[i].Len() == 0 {
			continue
		}
		size := d.Pieces[i].Size()
		part, quantity := id, ""
		if m := copyEnding.FindStringSubmatch(id); m != nil {
			part = m[1]
			if done[part] {
				continue
			}
			done[part] = true
			n := 0
			for _, other := range d.ids {
				if o := copyEnding.FindStringSubmatch(other); o != nil && o[1] == part {
					n++
				}
			}
			quantity = fmt.Sprintf("quantity: %d, ", n)
		}
		file := ""
		if d.files[i] != "" {
			file = ", mesh: " + quote(d.files[i])
		}
		d.line("  %s: {%ssize: [%s, %s, %s]%s}", part, quantity, d.mm(size[0]), d.mm(size[1]), d.mm(size[2]), file)
	}
}

// carries is how many pieces are fitted to a piece. One with several is built up on the
// bench, as far as the meshes let it go in like that.
func (d *draft) carries(p int) int {
	n := 0
	for _, q := range d.parent {
		if q == p {
			n++
		}
	}
	return n
}

// mm writes a length in the unit of the draft; a part is never without thickness.
func (d *draft) mm(x float64) string {
	if d.unit == 1 {
		return trim(max(x, 0.01))
	}
	return number(max(x, 0.01) / d.unit)
}

func trim(x float64) string {
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.2f", x), "0"), ".")
}

func (d *draft) entry(j draftJoin) string {
	var b strings.Builder
	if j.close {
		fmt.Fprintf(&b, "{close: [%s, %s]", d.ids[j.p], d.ids[j.q])
	} else {
		fmt.Fprintf(&b, "{fit: %s, to: %s", d.ids[j.p], d.ids[j.q])
		if j.together || d.carries(j.p) > 1 {
			b.WriteString(", bench: true")
		}
	}
	if j.with != "" {
		fmt.Fprintf(&b, ", with: %s", j.with)
	}
	if j.toward != nil {
		var n []string
		for _, x := range *j.toward {
			n = append(n, number(x))
		}
		fmt.Fprintf(&b, ", toward: [%s]", strings.Join(n, ", "))
	}
	if j.note != "" {
		fmt.Fprintf(&b, ", note: %s", quote(j.note))
	}
	return b.String() + "}"
}

// number writes part of a direction: precise enough that it is taken for the one
// that was looked along.
func number(x float64) string {
	if math.Abs(x) < 1e-12 {
		return "0"
	}
	return strings.TrimSuffix(strings.TrimRight(fmt.Sprintf("%.7f", x), "0"), ".")
}

// quote writes a YAML string.
func quote(s string) string {
	plain := s != ""
	for _, c := range s {
		plain = plain && (c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || strings.ContainsRune(" -_./0123456789", c))
	}
	if plain && strings.TrimSpace(s) == s && (s[0] >= 'a' && s[0] <= 'z' || s[0] >= 'A' && s[0] <= 'Z') && !strings.Contains(" true false yes no on off null ", " "+strings.ToLower(s)+" ") {
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
