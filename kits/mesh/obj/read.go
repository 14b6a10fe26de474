package obj

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/scan"
)

// maxJoined is the longest line that \ at line ends may build up, in bytes.
const maxJoined = 16 << 20

// Read reads an OBJ file. unit is the mm per unit of the file.
//
// Faces of more than three corners are cut into triangles. Normals, textures,
// colours, points and lines are ignored, since they say nothing about a solid.
// Free-form surfaces and unknown keywords are rejected, since leaving them out
// would change the part. A corner must be defined before the faces that use it.
func Read(f *io.SectionReader, unit float64) ([]*mesh.Mesh, error) {
	head, err := scan.Head(f)
	if err != nil {
		return nil, err
	}
	if other := scan.Foreign(head); other != "" {
		return nil, errors.New(other)
	}
	p := &file{Lines: scan.NewLines(f), unit: unit}
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

// file is what was read so far.
type file struct {
	*scan.Lines
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

// joined returns a line with its continuations after \.
func (p *file) joined() ([]byte, error) {
	line, err := p.Next()
	p.at = p.N
	if err != nil {
		return nil, err
	}
	if p.N == 1 {
		line = scan.SkipMark(line)
	}
	if !bytes.HasSuffix(line, []byte{'\\'}) {
		return line, nil
	}
	p.long = p.long[:0]
	for bytes.HasSuffix(line, []byte{'\\'}) {
		if len(p.long) > maxJoined {
			return nil, errors.New("lines joined by \\ are longer than 16 MB")
		}
		p.long = append(append(p.long, line[:len(line)-1]...), ' ')
		if line, err = p.Next(); errors.Is(err, io.EOF) {
			return p.long, nil
		} else if err != nil {
			return nil, err
		}
	}
	p.long = append(p.long, line...)
	return p.long, nil
}

func (p *file) line(line []byte) error {
	keyword, rest := scan.Word(line)
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
		return fmt.Errorf("%s is of a free-form surface, which is not supported; export the part as triangles", keyword)
	case "call", "csh":
		return fmt.Errorf("%s would run another file, which is not supported; export the part as one file", keyword)
	default:
		if keyword[0] == '#' {
			return nil
		}
		return fmt.Errorf("%s is not an OBJ keyword; export the part again", scan.Quote(keyword))
	}
	return nil
}

func (p *file) corner(rest []byte) error {
	if len(p.corners) >= scan.MaxCorners {
		return fmt.Errorf("more than %d corners; export the part as binary STL", scan.MaxCorners)
	}
	var c [3]float32
	for k := range c {
		var w []byte
		if w, rest = scan.Word(rest); len(w) == 0 {
			return fmt.Errorf("a corner with %d numbers; it needs three", k)
		}
		v, err := scan.Number(w)
		if err != nil {
			return err
		}
		c[k] = float32(v * p.unit)
	}
	p.corners = append(p.corners, c) // colours may follow
	return nil
}

func (p *file) face(rest []byte) error {
	p.polygon, p.places = p.polygon[:0], p.places[:0]
	for {
		var w []byte
		if w, rest = scan.Word(rest); len(w) == 0 || w[0] == '#' {
			break
		}
		i, err := p.index(w)
		if err != nil {
			return err
		}
		p.polygon, p.places = append(p.polygon, i), append(p.places, p.corners[i])
	}
	if len(p.polygon) < 3 {
		return fmt.Errorf("a face with %d corners; it needs at least three", len(p.polygon))
	}
	p.groups.mark(len(p.faces))
	err := p.cutter.cut(p.places, func(i, j, k int) {
		p.faces = append(p.faces, [3]uint32{p.polygon[i], p.polygon[j], p.polygon[k]})
	})
	if err == nil && len(p.faces) > scan.MaxTriangles {
		err = fmt.Errorf("more than %d triangles; export the part as binary STL", scan.MaxTriangles)
	}
	return err
}

// index reads one corner of a face: 7, 7/1, 7//3 or 7/1/3, where the first number
// is the corner, counted from 1, or backwards from the last if negative.
func (p *file) index(w []byte) (uint32, error) {
	first := w
	if slash := bytes.IndexByte(w, '/'); slash >= 0 {
		first = w[:slash]
		texture, normal, _ := bytes.Cut(w[slash+1:], []byte{'/'})
		for _, n := range [][]byte{texture, normal} {
			if _, ok := scan.ShortInt(n); !ok && len(n) > 0 {
				return 0, fmt.Errorf("%s is not a corner of a face; write it like 7, 7/1, 7//3 or 7/1/3", scan.Quote(w))
			}
		}
	}
	n, ok := scan.ShortInt(first)
	if !ok {
		return 0, fmt.Errorf("%s is not a corner of a face; write it like 7, 7/1, 7//3 or 7/1/3", scan.Quote(w))
	}
	i := n - 1
	if n < 0 {
		i = len(p.corners) + n
	}
	if n == 0 || i < 0 || i >= len(p.corners) {
		return 0, fmt.Errorf("a face uses corner %d, but %d are defined above it", n, len(p.corners))
	}
	return uint32(i), nil
}
