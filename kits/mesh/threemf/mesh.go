package threemf

import (
	"cmp"
	"fmt"

	"dryfit/kits/mesh/scan"
)

// mesh reads the corners and triangles of an object.
func (m *modelPart) mesh(o *object, own *property) error {
	had := ""
	err := m.children("mesh", func(e element) error {
		switch {
		case e.is("vertices") && had == "":
			had = e.name
			return m.corners(o)
		case e.is("triangles") && had == "vertices":
			had = e.name
			return m.triangles(o, own)
		}
		if e.space != coreSpace {
			o.odd = cmp.Or(o.odd, shaped(e))
		}
		return errElsewhere
	})
	if err == nil && had != "triangles" {
		err = fmt.Errorf("object %d: its mesh lacks <vertices> or <triangles>", o.id)
	}
	return err
}

func (m *modelPart) corners(o *object) error {
	quick := func() error {
		for {
			c, ok := m.quickCorner()
			if !ok {
				return nil
			}
			if err := o.addCorner(c); err != nil {
				return err
			}
		}
	}
	return m.rows("vertices", quick, func(e element) error {
		if !e.is("vertex") {
			return errElsewhere
		}
		if err := e.only("x", "y", "z"); err != nil {
			return err
		}
		var c [3]float32
		for k, name := range []string{"x", "y", "z"} {
			text, ok := e.look("", name)
			if !ok {
				return fmt.Errorf("object %d: a vertex has no %s", o.id, name)
			}
			v, err := scan.Number(trim([]byte(text)))
			if err != nil {
				return fmt.Errorf("object %d: vertex %d: %w", o.id, len(o.corners), err)
			}
			c[k] = float32(v)
		}
		return o.addCorner(c)
	})
}

// rows reads many elements of one kind. quick reads as many as it can at each
// call; do reads the others.
func (m *modelPart) rows(of string, quick func() error, do func(element) error) error {
	if m.in.closedItself() {
		return nil
	}
	if err := quick(); err != nil {
		return err
	}
	return m.children(of, func(e element) error {
		if err := do(e); err != nil {
			return err
		}
		if err := m.children(e.name, func(element) error { return errElsewhere }); err != nil {
			return err
		}
		return quick()
	})
}

func (o *object) addCorner(c [3]float32) error {
	if len(o.corners) == scan.MaxCorners {
		return fmt.Errorf("object %d has more than %d vertices; export it as binary STL", o.id, scan.MaxCorners)
	}
	o.corners = append(o.corners, c)
	return nil
}

// row is a triangle as written; missing values are -1.
type row struct {
	v, p [3]int
	pid  int
}

func (m *modelPart) triangles(o *object, own *property) error {
	add := func(r *row) error {
		if err := m.check(o, r, own); err != nil {
			return fmt.Errorf("object %d: triangle %d %w", o.id, len(o.faces), err)
		}
		o.faces = append(o.faces, [3]uint32{uint32(r.v[0]), uint32(r.v[1]), uint32(r.v[2])})
		return nil
	}
	quick := func() error {
		var r row
		for m.quickTriangle(&r) {
			if err := add(&r); err != nil {
				return err
			}
		}
		return nil
	}
	return m.rows("triangles", quick, func(e element) error {
		if !e.is("triangle") {
			return errElsewhere
		}
		r := row{v: [3]int{-1, -1, -1}, p: [3]int{-1, -1, -1}, pid: -1}
		for _, a := range e.attrs {
			to := r.field([]byte(a.name))
			if a.space != "" || to == nil {
				continue // marks for printing, which change no shape
			}
			v, ok := index(a.value)
			if !ok {
				return fmt.Errorf("object %d: triangle %d: %s is %s, not a whole number from 0", o.id, len(o.faces), a.name, scan.Quote(a.value))
			}
			*to = v
		}
		return add(&r)
	})
}

func (r *row) field(name []byte) *int {
	switch string(name) {
	case "v1":
		return &r.v[0]
	case "v2":
		return &r.v[1]
	case "v3":
		return &r.v[2]
	case "p1":
		return &r.p[0]
	case "p2":
		return &r.p[1]
	case "p3":
		return &r.p[2]
	case "pid":
		return &r.pid
	}
	return nil
}

// check checks the corners and properties that a triangle names. Equal corners
// are allowed here; package health reports them.
func (m *modelPart) check(o *object, r *row, own *property) error {
	if len(o.faces) == scan.MaxTriangles {
		return fmt.Errorf("is one too many: more than %d in one file; export it as binary STL", scan.MaxTriangles)
	}
	for k, v := range r.v {
		if v < 0 {
			return fmt.Errorf("has no v%d", k+1)
		}
		if v >= len(o.corners) {
			return fmt.Errorf("uses vertex %d, but there are %d, counted from 0", v, len(o.corners))
		}
	}
	if r.pid < 0 && r.p[0] < 0 && r.p[1] < 0 && r.p[2] < 0 {
		return nil
	}
	return m.checkProperty(r, own)
}

// quickCorner reads one <vertex x=".." y=".." z=".."/> if it comes next in exactly this
// form, and nothing otherwise.
func (m *modelPart) quickCorner() (c [3]float32, ok bool) {
	had := 0
	n, ok := m.quickTag("vertex", func(name, value []byte) bool {
		if len(name) != 1 || name[0] < 'x' || name[0] > 'z' {
			return false
		}
		k := int(name[0] - 'x')
		v, ok := scan.ShortNumber(value)
		c[k] = float32(v)
		had |= 1 << k
		return ok
	})
	if ok = ok && had == 7; ok {
		m.in.take(n)
	}
	return c, ok
}

func (m *modelPart) quickTriangle(r *row) bool {
	*r = row{v: [3]int{-1, -1, -1}, p: [3]int{-1, -1, -1}, pid: -1}
	n, ok := m.quickTag("triangle", func(name, value []byte) bool {
		to := r.field(name)
		if to == nil || *to >= 0 {
			return false
		}
		v, ok := scan.ShortInt(value)
		*to = v
		return ok && v >= 0
	})
	if ok {
		m.in.take(n)
	}
	return ok
}

// quickTag recognises a self-closing tag without prefixes or escapes, and returns how many
// bytes it has. All other tags, and those with unexpected attributes, are left to the XML
// decoder.
func (m *modelPart) quickTag(name string, attribute func(name, value []byte) bool) (n int, ok bool) {
	if m.peeked {
		return 0, false
	}
	const longest = 512
	b := m.in.ahead(longest)
	b = b[:min(len(b), longest)]
	i := skipBlank(b, 0)
	if len(b)-i < len(name)+1 || b[i] != '<' || string(b[i+1:i+1+len(name)]) != name || m.elsewhere() {
		return 0, false
	}
	i += 1 + len(name)
	had := 0
	for {
		from := skipBlank(b, i)
		apart := from > i
		i = from
		for i < len(b) && b[i] > ' ' && b[i] != '=' && b[i] != '/' && b[i] != '>' && b[i] < 0x7f {
			i++
		}
		if i == from {
			break
		}
		attr := b[from:i]
		if !apart || i+1 >= len(b) || b[i] != '=' || b[i+1] != '"' {
			return 0, false
		}
		i += 2
		from = i
		for i < len(b) && b[i] != '"' {
			i++
		}
		if i == len(b) || !attribute(attr, b[from:i]) {
			return 0, false
		}
		i++
		if had++; had > 7 {
			return 0, false // a doubled one
		}
	}
	if i+1 >= len(b) || b[i] != '/' || b[i+1] != '>' {
		return 0, false
	}
	return i + 2, true
}

func skipBlank(b []byte, i int) int {
	for i < len(b) && (b[i] == ' ' || b[i] == '\n' || b[i] == '\r' || b[i] == '\t') {
		i++
	}
	return i
}

// elsewhere reports that a tag without a prefix is not of the core specification
// here.
func (m *modelPart) elsewhere() bool {
	space, _ := m.space("")
	return space != coreSpace
}

func trim(b []byte) []byte {
	for len(b) > 0 && (b[0] == ' ' || b[0] == '\n' || b[0] == '\r' || b[0] == '\t') {
		b = b[1:]
	}
	for n := len(b); n > 0 && (b[n-1] == ' ' || b[n-1] == '\n' || b[n-1] == '\r' || b[n-1] == '\t'); n = len(b) {
		b = b[:n-1]
	}
	return b
}
