package threemf

import (
	"archive/zip"
	"bufio"
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Item is a mesh to write, as an object of its own.
type Item struct {
	Name   string // of the object
	Number string // of the part, on the build item; may be empty
	Mesh   *mesh.Mesh
	Place  geom.Transform // moves the mesh to where it is printed; without mirroring
}

// Write writes a package of the core specification in millimetres, in the order of
// the items. The corners keep their numbers to the last bit, and the items carry
// the moves. Triangles that have two corners in one place enclose nothing and are
// left out, since the specification forbids them. The same items make the same bytes.
func Write(w io.Writer, title string, items []Item) error {
	z := zip.NewWriter(w)
	put := func(name string, write func(*bufio.Writer) error) error {
		f, err := z.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Deflate, Modified: earliest})
		if err != nil {
			return err
		}
		b := bufio.NewWriterSize(f, 1<<16)
		if err := write(b); err != nil {
			return err
		}
		return b.Flush()
	}
	fixed := func(text string) func(*bufio.Writer) error {
		return func(b *bufio.Writer) error {
			_, err := b.WriteString(xml.Header + text)
			return err
		}
	}
	if err := put("[Content_Types].xml", fixed(typesText)); err != nil {
		return err
	}
	if err := put("_rels/.rels", fixed(relationsText)); err != nil {
		return err
	}
	err := put(modelName, func(b *bufio.Writer) error { return writeModel(b, title, items) })
	if err != nil {
		return err
	}
	return z.Close()
}

// mark is in every package written, by a name that the core specification has.
const mark = `<metadata name="Application">dryfit</metadata>`

// Ours reports whether [Write] made a file.
func Ours(file []byte) bool {
	z, err := zip.NewReader(bytes.NewReader(file), int64(len(file)))
	if err != nil {
		return false
	}
	f, err := z.Open(modelName)
	if err != nil {
		return false
	}
	defer f.Close()
	head := make([]byte, 1024)
	n, _ := io.ReadFull(f, head)
	return bytes.Contains(head[:n], []byte(mark))
}

// earliest is the date of every file in a package: the earliest that zip archives
// know, so that the bytes follow from the content.
var earliest = time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC)

const (
	modelName     = "3D/3dmodel.model"
	typesText     = `<Types xmlns="` + typesSpace + `"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="` + modelType + `"/></Types>` + "\n"
	relationsText = `<Relationships xmlns="` + relationsSpace + `"><Relationship Id="model" Type="` + modelRelation + `" Target="/` + modelName + `"/></Relationships>` + "\n"
)

func writeModel(b *bufio.Writer, title string, items []Item) error {
	b.WriteString(xml.Header)
	fmt.Fprintf(b, "<model unit=\"millimeter\" xml:lang=\"en\" xmlns=\"%s\">\n", coreSpace)
	b.WriteString(mark + "\n")
	if title != "" {
		fmt.Fprintf(b, "<metadata name=\"Title\">%s</metadata>\n", escaped(title))
	}
	b.WriteString("<resources>\n")
	for i, item := range items {
		fmt.Fprintf(b, "<object id=\"%d\" type=\"model\" name=\"%s\"", i+1, escaped(item.Name))
		if item.Number != "" {
			fmt.Fprintf(b, " partnumber=\"%s\"", escaped(item.Number))
		}
		b.WriteString("><mesh>\n")
		if err := writeMesh(b, item.Mesh); err != nil {
			return err
		}
		b.WriteString("</mesh></object>\n")
	}
	b.WriteString("</resources>\n<build>\n")
	for i, item := range items {
		fmt.Fprintf(b, "<item objectid=\"%d\" transform=\"%s\"/>\n", i+1, matrix(&item.Place))
	}
	_, err := b.WriteString("</build>\n</model>\n")
	return err
}

// writeMesh writes the corners once each, in the order in which the triangles use
// them, and then the triangles.
func writeMesh(b *bufio.Writer, m *mesh.Mesh) error {
	number := map[[3]float32]uint32{}
	faces := make([][3]uint32, 0, m.Len())
	b.WriteString("<vertices>\n")
	err := m.Blocks(func(_ int, block []mesh.Triangle) error {
		for _, t := range block {
			var f [3]uint32
			for k, c := range t {
				n, known := number[c]
				if !known {
					n = uint32(len(number))
					number[c] = n
					fmt.Fprintf(b, "<vertex x=\"%s\" y=\"%s\" z=\"%s\"/>\n", single(c[0]), single(c[1]), single(c[2]))
				}
				f[k] = n
			}
			if f[0] != f[1] && f[1] != f[2] && f[2] != f[0] {
				faces = append(faces, f)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	b.WriteString("</vertices>\n<triangles>\n")
	for _, f := range faces {
		fmt.Fprintf(b, "<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", f[0], f[1], f[2])
	}
	_, err = b.WriteString("</triangles>\n")
	return err
}

// single writes a coordinate so that it reads back the same.
func single(x float32) string { return strconv.FormatFloat(float64(x), 'g', -1, 32) }

// matrix writes a transform row by row, as the specification has it. A micrometre
// over a metre is 1e-6: ten digits are more than enough.
func matrix(t *geom.Transform) string {
	words := make([]string, 0, 12)
	for _, row := range t {
		for _, v := range row {
			words = append(words, strconv.FormatFloat(geom.Round(v, 10), 'g', -1, 64))
		}
	}
	return strings.Join(words, " ")
}

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}
