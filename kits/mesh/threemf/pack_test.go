package threemf_test

import (
	"archive/zip"
	"bytes"
	"encoding/binary"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
)

func open3MF(t *testing.T, data []byte) []*mesh.Mesh {
	t.Helper()
	return meshtest.Open(t, "part.3mf", data, files.Options{})
}

func Test3MFUnits(t *testing.T) {
	for unit, mm := range map[string]float64{"micron": 0.001, "millimeter": 1, "centimeter": 10, "inch": 25.4, "foot": 304.8, "meter": 1000} {
		m := open3MF(t, meshtest.Package(strings.Replace(meshtest.SoundModel, "millimeter", unit, 1)))[0]
		meshtest.WantTetrahedron(t, m, mm)
		if m.Name != "tetra" {
			t.Errorf("named %q", m.Name)
		}
	}
	meshtest.WantTetrahedron(t, open3MF(t, meshtest.Package(strings.Replace(meshtest.SoundModel, `unit="millimeter"`, "", 1)))[0], 1)
}

func Test3MFForms(t *testing.T) {
	for name, data := range forms() {
		t.Run(name, func(t *testing.T) {
			list := open3MF(t, data)
			if len(list) != 1 {
				t.Fatalf("%d meshes", len(list))
			}
			meshtest.WantTetrahedron(t, list[0], 1)
		})
	}
}

// forms are what is written in another way, but is the same by XML and the packaging
// conventions.
func forms() map[string][]byte {
	change := func(old, text string) []byte {
		return meshtest.Package(strings.Replace(meshtest.SoundModel, old, text, 1))
	}
	prefixed := strings.NewReplacer("</", "</c:", "<?", "<?", "<", "<c:", "xmlns=", "xmlns:c=").Replace(meshtest.SoundModel)
	return map[string][]byte{
		"byte order mark":        meshtest.Package("\xEF\xBB\xBF" + meshtest.SoundModel),
		"prefix":                 meshtest.Package(prefixed),
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
		"metadata unknown":       change(`<resources>`, `<metadata name="Own">x</metadata><resources>`),
		"mark on a triangle":     change(`v3="1"/>`, `v3="1" mark="4"/>`),
		"mark on an item":        change(`objectid="1"`, `objectid="1" mark="0"`),
		"after the build":        change(`</build>`, `</build><v:more/>`),
		"materials required":     change(`unit=`, `requiredextensions="m p s" unit=`),
		"capitals":               meshtest.Package(meshtest.SoundModel, meshtest.Entry{"_rels/.rels", strings.ReplaceAll(meshtest.Relations, "/3D/3dm", "/3d/3DM")}),
		"relative target":        meshtest.Package(meshtest.SoundModel, meshtest.Entry{"_rels/.rels", strings.ReplaceAll(meshtest.Relations, "/3D/3dm", "3D/3dm")}),
		"escaped name":           meshtest.Package("", meshtest.Entry{"3D/a b.model", meshtest.SoundModel}, meshtest.Entry{"_rels/.rels", strings.ReplaceAll(meshtest.Relations, "3dmodel.model", "a%20b.model")}),
		"type by name":           meshtest.Package(meshtest.SoundModel, meshtest.Entry{"[Content_Types].xml", strings.Replace(meshtest.ContentTypes, `Default Extension="model"`, `Override PartName="/3D/3dmodel.model"`, 1)}),
		"a colon in a name":      meshtest.Package("", meshtest.Entry{"3D/a:b.model", meshtest.SoundModel}, meshtest.Entry{"_rels/.rels", strings.ReplaceAll(meshtest.Relations, "3dmodel.model", "a:b.model")}),
		"a thumbnail":            meshtest.Package(meshtest.SoundModel, meshtest.Entry{"Metadata/t.png", "x"}, meshtest.Entry{"_rels/.rels", strings.ReplaceAll(meshtest.Relations, "</Relationships>", `<Relationship Id="t" Target="/Metadata/t.png" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/thumbnail"/></Relationships>`)}),
		"unknown, not required":  change(`unit=`, `xmlns:w="http://example.com/of-2099" unit=`),
		"textures by name":       meshtest.Package(meshtest.SoundModel, meshtest.Entry{"3D/_rels/3dmodel.model.rels", meshtest.RelationsHead + `<Relationship Id="a" Target="/3D/none.png" Type="x"/></Relationships>`}),
		"a property that counts": meshtest.Package(meshtest.Model(`<basematerials id="5"><base name="a" displaycolor="#00FF00"/></basematerials><object id="1" pid="5" pindex="0">`+meshtest.TetraMesh+`</object>`, meshtest.OneItem)),
	}
}

func Test3MFPackageFaults(t *testing.T) {
	for _, tt := range packageFaults() {
		t.Run(tt.name, func(t *testing.T) { meshtest.WantFault(t, "part.3mf", tt.data, tt.words) })
	}
}

// packageFaults breaks each rule of the packaging conventions and the zip format that is
// checked.
func packageFaults() []fault {
	rels := func(text string) []byte {
		return meshtest.Package(meshtest.SoundModel, meshtest.Entry{"_rels/.rels", meshtest.RelationsHead + text + "</Relationships>"})
	}
	types := func(old, text string) []byte {
		return meshtest.Package(meshtest.SoundModel, meshtest.Entry{"[Content_Types].xml", strings.Replace(meshtest.ContentTypes, old, text, 1)})
	}
	good := meshtest.Package(meshtest.SoundModel)
	encrypted := bytes.Clone(good)
	for i := range encrypted[:len(encrypted)-4] {
		if string(encrypted[i:i+4]) == "PK\x01\x02" {
			encrypted[i+8] |= 1
		}
	}
	damaged := bytes.Clone(good)
	damaged[bytes.Index(damaged, []byte("3D/3dmodel.model"))+40] ^= 0x10
	return []fault{
		{"not a zip", []byte("hello"), "is not a zip archive"},
		{"cut off", good[:len(good)-30], "is not a zip archive, or was truncated"},
		{"damaged", damaged, "/3D/3dmodel.model: line"},
		{"encrypted", encrypted, "is encrypted"},
		{"no relationships", meshtest.Zip(meshtest.Entry{"[Content_Types].xml", meshtest.ContentTypes}, meshtest.Entry{"3D/3dmodel.model", meshtest.SoundModel}), "no _rels/.rels"},
		{"no types", meshtest.Zip(meshtest.Entry{"_rels/.rels", meshtest.Relations}, meshtest.Entry{"3D/3dmodel.model", meshtest.SoundModel}), "no [Content_Types].xml"},
		{"no model named", rels(``), "names no 3D model"},
		{"no model", meshtest.Zip(meshtest.Entry{"[Content_Types].xml", meshtest.ContentTypes}, meshtest.Entry{"_rels/.rels", meshtest.Relations}), "/3d/3dmodel.model, which _rels/.rels names, is not in the package"},
		{"two models", rels(meshtest.ModelRelation + strings.NewReplacer("r1", "r2", "3dmodel.m", "other.m").Replace(meshtest.ModelRelation)), "names 2 3D models"},
		{"out of the package", rels(meshtest.ModelRelation + `<Relationship Id="r2" Target="http://example.com/x" TargetMode="External" Type="x"/>`), "refers to"},
		{"a drive", rels(meshtest.ModelRelation + `<Relationship Id="r2" Target="C:/secret.png" Type="x"/>`), "outside the package, which 3MF forbids"},
		{"a thumbnail that is not there", rels(meshtest.ModelRelation + `<Relationship Id="r2" Target="/Metadata/none.png" Type="http://schemas.openxmlformats.org/package/2006/relationships/metadata/thumbnail"/>`), `refers to "/Metadata/none.png", which is not in the package`},
		{"a ticket that is not there", meshtest.Package(meshtest.SoundModel, meshtest.Entry{"3D/_rels/3dmodel.model.rels", meshtest.RelationsHead +
			`<Relationship Id="a" Target="/a.xml" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket"/></Relationships>`}), "which is not in the package"},
		{"one type twice", rels(meshtest.ModelRelation + `<Relationship Id="r2" Target="/x" Type="x"/><Relationship Id="r3" Target="/x" Type="x"/>`), "two relationships of one type"},
		{"up and away", rels(strings.Replace(meshtest.ModelRelation, "/3D", "/../3D", 1)), "could lead out of the package"},
		{"same id", rels(meshtest.ModelRelation + `<Relationship Id="r1" Target="/x" Type="x"/>`), "two relationships with the id"},
		{"wrong root", meshtest.Package(meshtest.SoundModel, meshtest.Entry{"_rels/.rels", "<a/>"}), "does not begin with <Relationships>"},
		{"two tickets", meshtest.Package(meshtest.SoundModel, meshtest.Entry{"a.xml", "<a/>"}, meshtest.Entry{"b.xml", "<b/>"}, meshtest.Entry{"3D/_rels/3dmodel.model.rels", meshtest.RelationsHead +
			`<Relationship Id="a" Target="/a.xml" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket"/><Relationship Id="b" Target="/b.xml" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/printticket"/></Relationships>`}), "second print ticket"},
		{"other type", types("3dmanufacturing-3dmodel+xml", "other"), "does not say that /3D/3dmodel.model is a 3D model"},
		{"type twice", types(`<Default Extension="rels"`, `<Default Extension="MODEL"`), "states the type of \"model\" twice"},
		{"entry twice", meshtest.Zip(meshtest.Entry{"a", "1"}, meshtest.Entry{"A", "2"}), "twice (capital letters make no difference)"},
		{"bad name", meshtest.Zip(meshtest.Entry{"a/../../b", "1"}), "could lead out of the package"},
		{"back slash", meshtest.Zip(meshtest.Entry{`a\b`, "1"}), "a character that is not allowed"},
		{"bad escape", meshtest.Zip(meshtest.Entry{"a%zz", "1"}), "begins no escape"},
	}
}

func Test3MFLinkIsNotFollowed(t *testing.T) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range []meshtest.Entry{{"[Content_Types].xml", meshtest.ContentTypes}, {"_rels/.rels", meshtest.Relations}, {"3D/3dmodel.model", "../secret"}} {
		h := &zip.FileHeader{Name: f[0]}
		if f[1] == "../secret" {
			h.SetMode(fs.ModeSymlink | 0o777)
		}
		w, err := z.CreateHeader(h)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprint(w, f[1])
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	meshtest.WantFault(t, "part.3mf", b.Bytes(), "a link or another special file, which is not followed")
}

// Bombs are refused by what the archive says of their size, and an archive that says less
// than it holds is not believed.
func Test3MFBombIsDefused(t *testing.T) {
	vertices := strings.Repeat(`<vertex x="0" y="0" z="0"/>`, 3<<20)
	bomb := meshtest.Package(strings.Replace(meshtest.SoundModel, "<vertices>", "<vertices>"+vertices, 1))
	meshtest.WantFault(t, "part.3mf", bomb, "expands to more than 100 times")
	z, err := zip.NewReader(bytes.NewReader(bomb), int64(len(bomb)))
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range z.File {
		if f.Name != "3D/3dmodel.model" {
			continue
		}
		size := binary.LittleEndian.AppendUint32(nil, uint32(f.UncompressedSize64))
		if at := bytes.LastIndex(bomb, size); at < 0 {
			t.Fatal("its size is not in the directory")
		} else {
			binary.LittleEndian.PutUint32(bomb[at:], 5000)
		}
	}
	meshtest.WantFault(t, "part.3mf", bomb, "longer than the archive says")
}
