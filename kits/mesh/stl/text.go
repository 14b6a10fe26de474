package stl

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/scan"
)

// readText reads solids of the form
//
//	solid NAME
//	  facet normal x y z
//	    outer loop
//	      vertex x y z  (three of them)
//	    endloop
//	  endfacet
//	endsolid NAME
//
// with keywords in any letter case and line breaks anywhere. Normals are ignored:
// they follow from the corners. A file that ends without endsolid is rejected,
// since there is no telling how much is missing.
func readText(r io.Reader, unit float64) ([]*mesh.Mesh, error) {
	p := &textFile{Lines: scan.NewLines(r), unit: unit}
	list, err := p.solids()
	if err != nil {
		if p.N == 0 {
			return nil, err
		}
		return nil, fmt.Errorf("line %d: %w", p.N, err)
	}
	if len(list) == 1 {
		list[0].name = "" // it says what wrote the file, not what the part is
	}
	meshes := make([]*mesh.Mesh, len(list))
	for i, s := range list {
		if meshes[i], err = mesh.Measure(s.name, s.triangles, "stl text", i); err != nil {
			return nil, err
		}
	}
	return meshes, nil
}

// solid is a mesh as written.
type solid struct {
	name      string
	triangles mesh.Soup
}

// textFile reads the words of a file.
type textFile struct {
	*scan.Lines
	unit  float64
	line  []byte // what is left of the line
	count int
}

var errCutOff = errors.New("the file ends in the middle of a solid; it was probably truncated, so export it again")

// word returns the next word, valid until the next call.
func (p *textFile) word() ([]byte, error) {
	for {
		w, rest := scan.Word(p.line)
		if len(w) > 0 {
			p.line = rest
			return w, nil
		}
		line, err := p.Next()
		if err != nil {
			return nil, err
		}
		if p.N == 1 {
			line = scan.SkipMark(line)
		}
		p.line = line
	}
}

// inside is word where a file must not end.
func (p *textFile) inside() ([]byte, error) {
	w, err := p.word()
	if errors.Is(err, io.EOF) {
		err = errCutOff
	}
	return w, err
}

// want reads keywords.
func (p *textFile) want(keywords ...string) error {
	for _, k := range keywords {
		w, err := p.inside()
		if err != nil {
			return err
		}
		if !scan.Is(w, k) {
			return p.unexpected(w, k)
		}
	}
	return nil
}

func (p *textFile) unexpected(w []byte, keyword string) error {
	if bytes.IndexByte(w, 0) >= 0 {
		return errors.New("this is not text; the file is probably a truncated binary file: export it again")
	}
	return fmt.Errorf("%s where %s is expected", scan.Quote(w), keyword)
}

func (p *textFile) solids() ([]solid, error) {
	var list []solid
	for {
		w, err := p.word()
		switch {
		case errors.Is(err, io.EOF):
			return list, nil
		case err != nil:
			return nil, err
		case !scan.Is(w, "solid"):
			return nil, p.unexpected(w, "solid")
		}
		name := string(p.line[:min(len(p.line), 4*scan.MaxName)])
		p.line = nil
		triangles, err := p.facets()
		if err != nil {
			return nil, err
		}
		if len(triangles) == 0 {
			continue
		}
		if len(list) == scan.MaxMeshes {
			return nil, fmt.Errorf("more than %d solids in one file", scan.MaxMeshes)
		}
		list = append(list, solid{name, triangles})
	}
}

// facets reads up to endsolid.
func (p *textFile) facets() (list []mesh.Triangle, err error) {
	for {
		w, err := p.inside()
		switch {
		case err != nil:
			return nil, err
		case scan.Is(w, "endsolid"):
			p.line = nil // the name once more
			return list, nil
		case !scan.Is(w, "facet"):
			return nil, p.unexpected(w, "facet or endsolid")
		}
		t, err := p.facet()
		if err != nil {
			return nil, err
		}
		if p.count++; p.count > scan.MaxTriangles {
			return nil, fmt.Errorf("more than %d triangles; export the part as binary STL", scan.MaxTriangles)
		}
		list = append(list, t)
	}
}

func (p *textFile) facet() (t mesh.Triangle, err error) {
	if err := p.want("normal"); err != nil {
		return t, err
	}
	for range 3 {
		if _, err := p.inside(); err != nil {
			return t, err
		}
	}
	if err := p.want("outer", "loop"); err != nil {
		return t, err
	}
	for c := range 3 {
		if err := p.want("vertex"); err != nil {
			return t, err
		}
		for k := range 3 {
			w, err := p.inside()
			if err != nil {
				return t, err
			}
			v, err := scan.Number(w)
			if err != nil {
				return t, err
			}
			t[c][k] = float32(v * p.unit)
		}
	}
	return t, p.want("endloop", "endfacet")
}
