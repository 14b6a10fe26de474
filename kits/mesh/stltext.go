package mesh

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// readTextSTL reads solids of the form
//
//	solid NAME
//	  facet normal x y z
//	    outer loop
//	      vertex x y z  (three of them)
//	    endloop
//	  endfacet
//	endsolid NAME
//
// with keywords in any letter case and words on lines as they come. The normals
// are not read: they follow from the corners. A file that ends without endsolid is
// refused: nobody can tell how much of it is missing.
func readTextSTL(r io.Reader, o Options) ([]*Mesh, error) {
	p := &textSTL{lines: newLines(r), unit: o.unit()}
	list, err := p.solids()
	if err != nil {
		if p.n == 0 {
			return nil, err
		}
		return nil, fmt.Errorf("line %d: %w", p.n, err)
	}
	for i, m := range list {
		if len(list) == 1 {
			m.Name = "" // it says what wrote the file, not what the part is
		}
		if err := m.hold("stl text", i); err != nil {
			return nil, err
		}
	}
	return list, nil
}

// textSTL reads the words of a file.
type textSTL struct {
	*lines
	unit  float64
	line  []byte // what is left of the line
	count int
}

var errCutOff = errors.New("the file ends in the middle of a solid; it was probably cut off, export it again")

// word gives out the next word, valid until the next call.
func (p *textSTL) word() ([]byte, error) {
	for {
		w, rest := word(p.line)
		if len(w) > 0 {
			p.line = rest
			return w, nil
		}
		line, err := p.next()
		if err != nil {
			return nil, err
		}
		if p.n == 1 {
			line = skipMark(line)
		}
		p.line = line
	}
}

// want takes a keyword.
func (p *textSTL) want(keyword string) error {
	w, err := p.word()
	if errors.Is(err, io.EOF) {
		return errCutOff
	}
	if err != nil {
		return err
	}
	if !is(w, keyword) {
		return p.unexpected(w, keyword)
	}
	return nil
}

func (p *textSTL) unexpected(w []byte, keyword string) error {
	if bytes.IndexByte(w, 0) >= 0 {
		return errors.New("this is not text; the file is probably a binary one that was cut off: export it again")
	}
	return fmt.Errorf("%s where %s should stand", quote(w), keyword)
}

func (p *textSTL) solids() ([]*Mesh, error) {
	var list []*Mesh
	for {
		w, err := p.word()
		switch {
		case errors.Is(err, io.EOF):
			return list, nil
		case err != nil:
			return nil, err
		case !is(w, "solid"):
			return nil, p.unexpected(w, "solid")
		}
		m := &Mesh{Name: string(p.line[:min(len(p.line), 4*maxName)])}
		p.line = nil
		triangles, err := p.facets()
		if err != nil {
			return nil, err
		}
		if len(triangles) == 0 {
			continue
		}
		if len(list) == maxMeshes {
			return nil, fmt.Errorf("more than %d solids in one file", maxMeshes)
		}
		m.src = soup(triangles)
		list = append(list, m)
	}
}

// facets reads up to endsolid.
func (p *textSTL) facets() (list []Triangle, err error) {
	for {
		w, err := p.word()
		switch {
		case errors.Is(err, io.EOF):
			return nil, errCutOff
		case err != nil:
			return nil, err
		case is(w, "endsolid"):
			p.line = nil // the name once more
			return list, nil
		case !is(w, "facet"):
			return nil, p.unexpected(w, "facet or endsolid")
		}
		t, err := p.facet()
		if err != nil {
			return nil, err
		}
		if p.count++; p.count > maxHeld {
			return nil, fmt.Errorf("more than %d triangles; export the part as binary STL", maxHeld)
		}
		list = append(list, t)
	}
}

func (p *textSTL) facet() (t Triangle, err error) {
	if err := p.want("normal"); err != nil {
		return t, err
	}
	for range 3 {
		if _, err := p.word(); err != nil {
			return t, p.cut(err)
		}
	}
	if err := p.want("outer"); err != nil {
		return t, err
	}
	if err := p.want("loop"); err != nil {
		return t, err
	}
	for c := range 3 {
		if err := p.want("vertex"); err != nil {
			return t, err
		}
		for k := range 3 {
			w, err := p.word()
			if err != nil {
				return t, p.cut(err)
			}
			v, err := number(w)
			if err != nil {
				return t, err
			}
			t[c][k] = float32(v * p.unit)
		}
	}
	if err := p.want("endloop"); err != nil {
		return t, err
	}
	return t, p.want("endfacet")
}

func (p *textSTL) cut(err error) error {
	if errors.Is(err, io.EOF) {
		return errCutOff
	}
	return err
}
