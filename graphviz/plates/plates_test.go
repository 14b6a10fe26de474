package plates

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"
	"testing"

	"dryfit/graphviz/svg"
	"dryfit/kits"
	"dryfit/plan/printing"
)

// plateWith is a plate of 100 x 60 mm with a wedge that lies as it is, the same wedge
// turned by a right angle, and a pin too small for its name.
func plateWith() *printing.Plate {
	wedge := &printing.Part{Of: &kits.Part{ID: "wedge", Name: "Wedge & <co>", Number: "W1"}}
	pin := &printing.Part{Of: &kits.Part{ID: "a-pin-with-a-long-name", Name: "Pin"}}
	lying := &printing.Setting{Size: [3]float64{40, 20, 5}, Shadow: [][2]float64{{0, 0}, {40, 0}, {0, 20}}}
	small := &printing.Setting{Size: [3]float64{3, 3, 5}, Shadow: [][2]float64{{0, 0}, {3, 0}, {3, 3}, {0, 3}}}
	return &printing.Plate{Number: 3, Printer: &kits.Printer{ID: "desk", Volume: [3]float64{100, 60, 150}}, Material: &kits.Material{ID: "resin"},
		Pieces: []printing.Placed{
			{Part: wedge, Setting: lying},
			{Part: wedge, Setting: lying, X: 50, Y: 10, Quarter: true},
			{Part: pin, Setting: small, X: 90, Y: 50},
		}}
}

// shapesOf reads a drawing: the corners of its polygons and its texts.
func shapesOf(t *testing.T, data []byte) (polygons [][][2]float64, texts []string) {
	t.Helper()
	dec := xml.NewDecoder(bytes.NewReader(data))
	for {
		tok, err := dec.Token()
		if tok == nil {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := tok.(type) {
		case xml.CharData:
			texts = append(texts, string(e))
		case xml.StartElement:
			for _, a := range e.Attr {
				if e.Name.Local == "polygon" && a.Name.Local == "points" {
					polygons = append(polygons, cornersOf(t, a.Value))
				}
			}
		}
	}
	return polygons, texts
}

func cornersOf(t *testing.T, s string) (list [][2]float64) {
	for _, p := range strings.Fields(s) {
		x, y, _ := strings.Cut(p, ",")
		a, err1 := strconv.ParseFloat(x, 64)
		b, err2 := strconv.ParseFloat(y, 64)
		if err1 != nil || err2 != nil {
			t.Fatalf("%q are no corners", s)
		}
		list = append(list, [2]float64{a, b})
	}
	return list
}

// A plate is drawn to scale with its front below, each piece where it lies.
func TestPlateDrawing(t *testing.T) {
	data := Plate(plateWith(), "A & B")
	if !svg.Ours(data) || !bytes.Contains(data, []byte(`width="136mm"`)) || !bytes.Contains(data, []byte(`viewBox="0 0 136 `)) {
		t.Errorf("the drawing is not to scale, or not marked:\n%.300s", data)
	}
	polygons, texts := shapesOf(t, data)
	const front = 13.0 + 60
	want := [][][2]float64{
		{{0, front}, {40, front}, {0, front - 20}},
		{{70, front - 10}, {70, front - 50}, {50, front - 10}}, // corner 40, 0 goes to 0, 40 and is moved by its width
		{{90, front - 50}, {93, front - 50}, {93, front - 53}, {90, front - 53}},
	}
	if fmt.Sprint(polygons) != fmt.Sprint(want) {
		t.Errorf("polygons %v, want %v", polygons, want)
	}
	all := strings.Join(texts, "|")
	for _, w := range []string{"Plate 3: resin on desk", "A & B", "|W1|", "1  W1 Wedge & <co> (2)", "2  Pin", "|2|", "50 mm"} {
		if !strings.Contains(all, w) {
			t.Errorf("%q is not written: %s", w, all)
		}
	}
}

// On one sheet the plates lie beside and below one another; a sheet of none is one too.
func TestPlatesSheet(t *testing.T) {
	list := []*printing.Plate{plateWith(), plateWith(), plateWith()}
	data := Sheet(list, "Kit")
	if n := bytes.Count(data, []byte("<g transform=")); n != 3 {
		t.Errorf("%d plates are drawn, want 3", n)
	}
	if polygons, _ := shapesOf(t, data); len(polygons) != 9 {
		t.Errorf("%d pieces are drawn, want 9", len(polygons))
	}
	if _, texts := shapesOf(t, Sheet(nil, "Kit")); !strings.Contains(strings.Join(texts, ""), "Kit") {
		t.Error("a sheet of no plates does not say what it is of")
	}
}
