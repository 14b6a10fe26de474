package meshtest

import (
	"bufio"
	"encoding/xml"
	"fmt"
	"io"
	"strconv"
	"strings"

	"dryfit/kits/mesh"
)

// Object is a named surface of a file that holds several.
type Object struct {
	Name string
	List []mesh.Triangle
}

// WriteOBJ writes each object as an "o" group with corners of its own, shared
// between its triangles and numbered through the file. Numbers are written in full:
// they read back the same to the last bit.
func WriteOBJ(w io.Writer, objects []Object) error {
	b := bufio.NewWriter(w)
	first := 1
	for _, o := range objects {
		corners, faces := indexed(o.List)
		fmt.Fprintf(b, "o %s\n", o.Name)
		for _, c := range corners {
			fmt.Fprintf(b, "v %s %s %s\n", number(c[0]), number(c[1]), number(c[2]))
		}
		for _, f := range faces {
			fmt.Fprintf(b, "f %d %d %d\n", first+f[0], first+f[1], first+f[2])
		}
		first += len(corners)
	}
	return b.Flush()
}

// Write3MF writes a 3MF package of the core specification: one object and one build
// item for each, in order. The numbers are written as they are, in the unit that the
// file states: micron, millimeter, centimeter, inch, foot or meter. The same
// objects make the same bytes.
func Write3MF(w io.Writer, objects []Object, unit string) error {
	_, err := w.Write(Package(model(objects, unit)))
	return err
}

func model(objects []Object, unit string) string {
	var b strings.Builder
	b.WriteString(xml.Header)
	fmt.Fprintf(&b, "<model unit=%q xml:lang=\"en-US\" xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n<resources>\n", unit)
	for i, o := range objects {
		corners, faces := indexed(o.List)
		fmt.Fprintf(&b, "<object id=\"%d\" name=\"%s\" type=\"model\"><mesh>\n<vertices>\n", i+1, escaped(o.Name))
		for _, c := range corners {
			fmt.Fprintf(&b, "<vertex x=\"%s\" y=\"%s\" z=\"%s\"/>\n", number(c[0]), number(c[1]), number(c[2]))
		}
		b.WriteString("</vertices>\n<triangles>\n")
		for _, f := range faces {
			fmt.Fprintf(&b, "<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", f[0], f[1], f[2])
		}
		b.WriteString("</triangles>\n</mesh></object>\n")
	}
	b.WriteString("</resources>\n<build>\n")
	for i := range objects {
		fmt.Fprintf(&b, "<item objectid=\"%d\"/>\n", i+1)
	}
	b.WriteString("</build>\n</model>\n")
	return b.String()
}

// indexed gives equal corners one number, in the order in which they appear.
func indexed(list []mesh.Triangle) (corners [][3]float32, faces [][3]int) {
	known := map[[3]float32]int{}
	for _, t := range list {
		var f [3]int
		for k, c := range t {
			n, ok := known[c]
			if !ok {
				n = len(corners)
				known[c] = n
				corners = append(corners, c)
			}
			f[k] = n
		}
		faces = append(faces, f)
	}
	return corners, faces
}

func number(x float32) string { return strconv.FormatFloat(float64(x), 'g', -1, 32) }

func escaped(s string) string {
	var b strings.Builder
	_ = xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}
