package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// maxJoined is the longest line that \ at line ends may build up, in bytes.
const maxJoined = 16 << 20

// readOBJ reads the corners and faces of an OBJ file, which states no
// unit. Faces of more than three corners are cut into triangles. Normals, textures,
// colours, points and lines tell nothing about a solid and are passed over; free-form
// surfaces and keywords that nobody knows are refused, as leaving them out would
// change the part. A corner must stand above the faces that use it.
func readOBJ(in input, o Options) ([]*Mesh, error) {
	f, err := in.open()
	if err != nil {
		return nil, err
	}
	defer f.Close()
	head := make([]byte, min(in.size, 512))
	if _, err := f.ReadAt(head, 0); err != nil && !errors.Is(err, io.EOF) {
		return nil, err
	}
	if other := foreign(head); other != "" {
		return nil, errors.New(other)
	}
	p := &objFile{lines: newLines(io.NewSectionReader(f, 0, in.size)), unit: o.unit()}
	p.begin()
	for {
		line, err := p.joined()
		if errors.Is(err, io.EOF) {
			break
		}
		if err == nil {
			err = p.line(line)
		}
		if err != nil {
			return nil, fmt.Errorf("line %d: %w", p.at, err)
		}
	}
	return p.meshes()
}

// objFile is what was read so far.
type objFile struct {
	*lines
	unit    float64
	at      int // where the line began, before any \
	long    []byte
	corners [][3]float32
	faces   [][3]uint32
	cutter  cutter
	polygon []uint32
	places  [][3]float32
	groups
}

// joined gives out a line with those that \ ties to it.
func (p *objFile) joined() ([]byte, error) {
	line, err := p.next()
	p.at = p.n
	if err != nil {
		return nil, err
	}
	if p.n == 1 {
		line = skipMark(line)
	}
	if !bytes.HasSuffix(line, []byte{'\\'}) {
		return line, nil
	}
	p.long = p.long[:0]
	for bytes.HasSuffix(line, []byte{'\\'}) {
		if len(p.long) > maxJoined {
			return nil, errors.New("lines joined by \\ that are longer than 16 MB, which no exporter writes")
		}
		p.long = append(append(p.long, line[:len(line)-1]...), ' ')
		if line, err = p.next(); errors.Is(err, io.EOF) {
			return p.long, nil
		} else if err != nil {
			return nil, err
		}
	}
	p.long = append(p.long, line...)
	return p.long, nil
}

func (p *objFile) line(line []byte) error {
	keyword, rest := word(line)
	switch string(keyword) {
	case "v":
		return p.corner(rest)
	case "f", "fo":
		return p.face(rest)
	case "o":
		p.object(rest)
	case "g":
		p.group(rest)
	case "", "vn", "vt", "s", "usemtl", "mtllib", "usemap", "maplib", "l", "p",
		"bevel", "c_interp", "d_interp", "lod", "mg", "shadow_obj", "trace_obj":
	case "vp", "cstype", "deg", "bmat", "step", "curv", "curv2", "surf", "parm", "trim", "hole", "scrv", "sp", "end", "con":
		return fmt.Errorf("%s is of a free-form surface, which is not read; export the part as triangles", keyword)
	case "call", "csh":
		return fmt.Errorf("%s would run another file, which is not done; export the part as one file", keyword)
	default:
		if keyword[0] == '#' {
			return nil
		}
		return fmt.Errorf("%s is no keyword of OBJ files; export the part again", quote(keyword))
	}
	return nil
}

func (p *objFile) corner(rest []byte) error {
	if len(p.corners) >= 3*maxHeld {
		return fmt.Errorf("more than %d corners; export the part as binary STL", 3*maxHeld)
	}
	var c [3]float32
	for k := range c {
		var w []byte
		if w, rest = word(rest); len(w) == 0 {
			return fmt.Errorf("a corner with %d numbers; it needs three", k)
		}
		v, err := number(w)
		if err != nil {
			return err
		}
		c[k] = float32(v * p.unit)
	}
	p.corners = append(p.corners, c) // colours may follow
	return nil
}

func (p *objFile) face(rest []byte) error {
	p.polygon, p.places = p.polygon[:0], p.places[:0]
	for {
		var w []byte
		if w, rest = word(rest); len(w) == 0 || w[0] == '#' {
			break
		}
		i, err := p.index(w)
		if err != nil {
			return err
		}
		p.polygon, p.places = append(p.polygon, i), append(p.places, p.corners[i])
	}
	if len(p.polygon) < 3 {
		return fmt.Errorf("a face of %d corners; it needs three or more", len(p.polygon))
	}
	p.groups.mark(len(p.faces))
	err := p.cutter.cut(p.places, func(i, j, k int) {
		p.faces = append(p.faces, [3]uint32{p.polygon[i], p.polygon[j], p.polygon[k]})
	})
	if err == nil && len(p.faces) > maxHeld {
		err = fmt.Errorf("more than %d triangles; export the part as binary STL", maxHeld)
	}
	return err
}

// index reads one corner of a face: 7, 7/1, 7//3 or 7/1/3, of which the first is the
// number of a corner, counted from 1, or backwards from the last if negative.
func (p *objFile) index(w []byte) (uint32, error) {
	first := w
	if slash := bytes.IndexByte(w, '/'); slash >= 0 {
		first = w[:slash]
		texture, normal, _ := bytes.Cut(w[slash+1:], []byte{'/'})
		for _, n := range [][]byte{texture, normal} {
			if _, ok := shortInt(n); !ok && len(n) > 0 {
				return 0, fmt.Errorf("%s is no corner of a face; it should be like 7, 7/1, 7//3 or 7/1/3", quote(w))
			}
		}
	}
	n, ok := shortInt(first)
	if !ok {
		return 0, fmt.Errorf("%s is no corner of a face; it should be like 7, 7/1, 7//3 or 7/1/3", quote(w))
	}
	i := n - 1
	if n < 0 {
		i = len(p.corners) + n
	}
	if n == 0 || i < 0 || i >= len(p.corners) {
		return 0, fmt.Errorf("a face uses corner %d, but %d corners stand above it", n, len(p.corners))
	}
	return uint32(i), nil
}
