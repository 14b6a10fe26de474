package mesh

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io/fs"
	"strings"
	"testing"
)

// file is one entry of a package under test.
type file struct{ name, text string }

const testTypes = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>`

const relHead = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`

const modelRel = `<Relationship Id="r1" Target="/3D/3dmodel.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>`

const testRels = relHead + modelRel + `</Relationships>`

// zipOf makes a package. Files replace those of a sound one that have their names.
func zipOf(model string, more ...file) []byte {
	files := []file{{"[Content_Types].xml", testTypes}, {"_rels/.rels", testRels}, {"3D/3dmodel.model", model}}
	for _, m := range more {
		replaced := false
		for i := range files {
			if files[i].name == m.name {
				files[i], replaced = m, true
			}
		}
		if !replaced {
			files = append(files, m)
		}
	}
	return zipFiles(files...)
}

func zipFiles(files ...file) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		if f.text == "" {
			continue
		}
		w, err := z.Create(f.name)
		if err != nil {
			panic(err)
		}
		if _, err := w.Write([]byte(f.text)); err != nil {
			panic(err)
		}
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

const modelHead = `<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
 xmlns:m="http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
 xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
 xmlns:s="http://schemas.microsoft.com/3dmanufacturing/slice/2015/07"
 xmlns:b="http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02"
 xmlns:v="http://example.com/vendor">
`

const tetraMesh = `<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/><vertex x="0" y="0" z="1"/></vertices>` +
	`<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh>`

// modelOf makes a model of resources and the inside of a build.
func modelOf(resources, build string) string {
	return modelHead + "<resources>" + resources + "</resources><build>" + build + "</build></model>"
}

const tetraObject = `<object id="1" name="tetra">` + tetraMesh + `</object>`

const oneItem = `<item objectid="1"/>`

var soundModel = modelOf(tetraObject, oneItem)

func open3MF(t *testing.T, data []byte) []*Mesh {
	t.Helper()
	return mustOpen(t, "part.3mf", data, Options{})
}

func Test3MFUnits(t *testing.T) {
	for unit, mm := range map[string]float64{"micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000} {
		m := open3MF(t, zipOf(strings.Replace(soundModel, "millimeter", unit, 1)))[0]
		wantTetrahedron(t, m, mm)
		if m.Name != "tetra" {
			t.Errorf("named %q", m.Name)
		}
	}
	wantTetrahedron(t, open3MF(t, zipOf(strings.Replace(soundModel, `unit="millimeter"`, "", 1)))[0], 1)
}

// What is written in another way, but is the same by XML and the packaging
// conventions.
func Test3MFForms(t *testing.T) {
	change := func(old, text string) []byte { return zipOf(strings.Replace(soundModel, old, text, 1)) }
	prefixed := strings.NewReplacer("</", "</c:", "<?", "<?", "<", "<c:", "xmlns=", "xmlns:c=").Replace(soundModel)
	forms := map[string][]byte{
		"byte order mark":        zipOf("\xEF\xBB\xBF" + soundModel),
		"prefix":                 zipOf(prefixed),
		"single quotes":          change(`x="1"`, `x='1'`),
		"escapes":                change(`x="1"`, `x="&#49;"`),
		"blanks":                 change(`x="1"`, "x = \" 1\n\""),
		"exponent":               change(`x="1"`, `x="1e0"`),
		"long number":            change(`x="1"`, `x="1.0000000000000000000000000"`),
		"plus":                   change(`v1="0"`, `v1="+0"`),
		"comments":               change(`<vertex`, `<!-- one --> <vertex`),
		"open and close":         change(`z="0"/>`, `z="0"></vertex>`),
		"foreign element":        change(`z="0"/>`, `z="0"><v:more><v:x/>text</v:more></vertex>`),
		"foreign attribute":      change(`z="0"/>`, `z="0" v:more="1"/>`),
		"foreign resource":       change(`<resources>`, `<resources><v:thing id="77"><v:x/></v:thing>`),
		"CDATA metadata":         change(`<resources>`, `<metadata name="Title"><![CDATA[a < b]]></metadata><resources>`),
		"vendor metadata":        change(`<resources>`, `<metadata name="v:more">x</metadata><resources>`),
		"metadata of an object":  change(`<mesh>`, `<metadatagroup><metadata name="Own">x</metadata></metadatagroup><mesh>`),
		"metadata of an item":    change(`<item objectid="1"/>`, `<item objectid="1"><metadatagroup><metadata name="v:own"/></metadatagroup></item>`),
		"how it shines":          change(`<resources>`, `<resources><m:pbmetallicdisplayproperties id="9"><m:pbmetallic/></m:pbmetallicdisplayproperties>`),
		"paint":                  change(`v3="1"/>`, `v3="1" paint_color="4"/>`),
		"not to be printed":      change(`objectid="1"`, `objectid="1" printable="0"`),
		"after the build":        change(`</build>`, `</build><v:more/>`),
		"materials required":     change(`unit=`, `requiredextensions="m p s" unit=`),
		"capitals":               zipOf(soundModel, file{"_rels/.rels", strings.ReplaceAll(testRels, "/3D/3dm", "/3d/3DM")}),
		"relative target":        zipOf(soundModel, file{"_rels/.rels", strings.ReplaceAll(testRels, "/3D/3dm", "3D/3dm")}),
		"escaped name":           zipOf("", file{"3D/a b.model", soundModel}, file{"_rels/.rels", strings.ReplaceAll(testRels, "3dmodel.model", "a%20b.model")}),
		"type by name":           zipOf(soundModel, file{"[Content_Types].xml", strings.Replace(testTypes, `Default Extension="model"`, `Override PartName="/3D/3dmodel.model"`, 1)}),
		"textures by name":       zipOf(soundModel, file{"3D/_rels/3dmodel.model.rels", relHead + `<Relationship Id="a" Target="/3D/none.png" Type="x"/></Relationships>`}),
		"a property that counts": zipOf(modelOf(`<basematerials id="5"><base name="a" displaycolor="#00FF00"/></basematerials><object id="1" pid="5" pindex="0">`+tetraMesh+`</object>`, oneItem)),
	}
	for name, data := range forms {
		t.Run(name, func(t *testing.T) {
			list := open3MF(t, data)
			if len(list) != 1 {
				t.Fatalf("%d meshes", len(list))
			}
			wantTetrahedron(t, list[0], 1)
		})
	}
}

// Each rule of the packaging conventions and the zip format that is checked.
func Test3MFPackageFaults(t *testing.T) {
	rels := func(text string) []byte {
		return zipOf(soundModel, file{"_rels/.rels", relHead + text + "</Relationships>"})
	}
	types := func(old, text string) []byte {
		return zipOf(soundModel, file{"[Content_Types].xml", strings.Replace(testTypes, old, text, 1)})
	}
	good := zipOf(soundModel)
	encrypted := bytes.Clone(good)
	for i := range encrypted[:len(encrypted)-4] {
		if string(encrypted[i:i+4]) == "PK\x01\x02" {
			encrypted[i+8] |= 1
		}
	}
	damaged := bytes.Clone(good)
	damaged[bytes.Index(damaged, []byte("3D/3dmodel.model"))+40] ^= 0x10
	tests := []struct {
		name  string
		data  []byte
		words string
	}{
		{"not a zip", []byte("hello"), "is not a zip archive"},
		{"cut off", good[:len(good)-30], "is not a zip archive, or was cut off"},
		{"damaged", damaged, "/3D/3dmodel.model: line"},
		{"encrypted", encrypted, "is encrypted"},
		{"no relationships", zipFiles(file{"[Content_Types].xml", testTypes}, file{"3D/3dmodel.model", soundModel}), "no _rels/.rels"},
		{"no types", zipFiles(file{"_rels/.rels", testRels}, file{"3D/3dmodel.model", soundModel}), "no [Content_Types].xml"},
		{"no model named", rels(``), "names no 3D model"},
		{"no model", zipFiles(file{"[Content_Types].xml", testTypes}, file{"_rels/.rels", testRels}), "/3d/3dmodel.model, which _rels/.rels names, is not in the package"},
		{"two models", rels(modelRel + strings.NewReplacer("r1", "r2", "3dmodel.m", "other.m").Replace(modelRel)), "names 2 3D models"},
		{"out of the package", rels(modelRel + `<Relationship Id="r2" Target="http://example.com/x" TargetMode="External" Type="x"/>`), "leads out of the package"},
		{"up and away", rels(strings.Replace(modelRel, "/3D", "/../3D", 1)), "would lead out of the package"},
		{"same id", rels(modelRel + `<Relationship Id="r1" Target="/x" Type="x"/>`), "two relationships with the id"},
		{"wrong root", zipOf(soundModel, file{"_rels/.rels", "<a/>"}), "does not begin with <Relationships>"},
		{"two tickets", zipOf(soundModel, file{"3D/_rels/3dmodel.model.rels", relHead +
			`<Relationship Id="a" Target="/a.xml" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket"/><Relationship Id="b" Target="/b.xml" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket"/></Relationships>`}), "second print ticket"},
		{"other type", types("3dmanufacturing-3dmodel+xml", "other"), "does not say that /3D/3dmodel.model is a 3D model"},
		{"type twice", types(`<Default Extension="rels"`, `<Default Extension="MODEL"`), "states the type of \"model\" twice"},
		{"entry twice", zipFiles(file{"a", "1"}, file{"A", "2"}), "twice (capital letters make no difference)"},
		{"bad name", zipFiles(file{"a/../../b", "1"}), "would lead out of the package"},
		{"back slash", zipFiles(file{`a\b`, "1"}), "a character that no part's may have"},
		{"bad escape", zipFiles(file{"a%zz", "1"}), "begins no escape"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { wantFault(t, "part.3mf", tt.data, tt.words) })
	}
}

func Test3MFLinkIsNotFollowed(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range []file{{"[Content_Types].xml", testTypes}, {"_rels/.rels", testRels}, {"3D/3dmodel.model", "../secret"}} {
		h := &zip.FileHeader{Name: f.name}
		if f.text == "../secret" {
			h.SetMode(fs.ModeSymlink | 0o777)
		}
		w, err := z.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(w, f.text)
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	wantFault(t, "part.3mf", b.Bytes(), "a link or the like, which is not followed")
}

func Test3MFBombIsDefused(t *testing.T) {
	vertices := strings.Repeat(`<vertex x="0" y="0" z="0"/>`, 3<<20)
	wantFault(t, "part.3mf", zipOf(strings.Replace(soundModel, "<vertices>", "<vertices>"+vertices, 1)), "swells to more than 250 times")
}

func TestXMLTextIsLimited(t *testing.T) {
	x, err := newXML(strings.NewReader("<a>" + strings.Repeat(" ", maxToken+1) + "</a>"))
	for err == nil {
		_, err = x.next()
	}
	if !strings.Contains(err.Error(), "more than 16 MB") {
		t.Errorf("error %v", err)
	}
}

func Fuzz3MF(f *testing.F) {
	f.Add(soundModel, testRels, testTypes)
	f.Add(modelOf(tetraObject+`<object id="2"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 -1 3 3 3"/></components></object>`, `<item objectid="2"/>`), testRels, testTypes)
	f.Add(modelOf(`<m:colorgroup id="3"><m:color color="#112233"/></m:colorgroup><object id="1" pid="3" pindex="0">`+tetraMesh+`</object>`, oneItem), testRels, testTypes)
	f.Fuzz(func(t *testing.T, model, rels, types string) {
		list, err := open(inputBytes("part.3mf", zipOf(model, file{"_rels/.rels", rels}, file{"[Content_Types].xml", types})), Options{})
		if err == nil {
			wantSound(t, list)
		}
	})
}
