package meshtest_test

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"io"
	"strings"
	"testing"

	. "dryfit/kits/mesh/meshtest"
)

func two() []Object {
	return []Object{
		{"lid", Box([3]float64{0, 0, 1}, [3]float64{2, 2, 2})},
		{`box & "co"`, Box([3]float64{}, [3]float64{2, 2, 0.1})},
	}
}

func TestWriteOBJ(t *testing.T) {
	var b bytes.Buffer
	if err := WriteOBJ(&b, two()); err != nil {
		t.Fatal(err)
	}
	count := map[string]int{}
	highest := ""
	for line := range strings.Lines(b.String()) {
		count[line[:2]]++
		if strings.HasPrefix(line, "f ") && strings.Contains(line, "16") {
			highest = line
		}
	}
	if count["o "] != 2 || count["v "] != 16 || count["f "] != 24 || highest == "" {
		t.Errorf("objects, corners, faces %v, face of corner 16 %q; want 2, 16, 24", count, highest)
	}
	if !strings.Contains(b.String(), "v 2 2 0.1\n") {
		t.Error("the corner 2 2 0.1 is not written so that it reads back the same")
	}
}

func TestWrite3MF(t *testing.T) {
	var a, b bytes.Buffer
	if err := Write3MF(&a, two(), "inch"); err != nil {
		t.Fatal(err)
	}
	if err := Write3MF(&b, two(), "inch"); err != nil || !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Errorf("the same objects made other bytes (error %v)", err)
	}
	z, err := zip.NewReader(bytes.NewReader(a.Bytes()), int64(a.Len()))
	if err != nil {
		t.Fatal(err)
	}
	var m struct {
		Unit    string `xml:"unit,attr"`
		Objects []struct {
			ID        int        `xml:"id,attr"`
			Name      string     `xml:"name,attr"`
			Vertices  []struct{} `xml:"mesh>vertices>vertex"`
			Triangles []struct{} `xml:"mesh>triangles>triangle"`
		} `xml:"resources>object"`
		Items []struct {
			Object int `xml:"objectid,attr"`
		} `xml:"build>item"`
	}
	f, err := z.Open("3D/3dmodel.model")
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(f)
	if err != nil {
		t.Fatal(err)
	}
	if err := xml.Unmarshal(text, &m); err != nil {
		t.Fatal(err)
	}
	if m.Unit != "inch" || len(m.Objects) != 2 || len(m.Items) != 2 || m.Items[1].Object != m.Objects[1].ID {
		t.Fatalf("unit %q, objects %d, items %v", m.Unit, len(m.Objects), m.Items)
	}
	if o := m.Objects[1]; o.Name != `box & "co"` || len(o.Vertices) != 8 || len(o.Triangles) != 12 {
		t.Errorf("second object: name %q, %d corners, %d triangles", o.Name, len(o.Vertices), len(o.Triangles))
	}
}
