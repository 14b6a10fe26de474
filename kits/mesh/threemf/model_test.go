package threemf_test

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/kits/mesh/meshtest"
)

// fault is a package that is refused, and words of the reason.
type fault struct {
	name  string
	data  []byte
	words string
}

func Test3MFModelFaults(t *testing.T) {
	for _, tt := range modelFaults() {
		t.Run(tt.name, func(t *testing.T) { meshtest.WantFault(t, "part.3mf", tt.data, tt.words) })
	}
}

// modelFaults breaks each rule of the core specification that is checked on a model.
func modelFaults() (list []fault) {
	change := func(old, text string) string { return strings.Replace(meshtest.SoundModel, old, text, 1) }
	object := func(text string) string { return meshtest.Model(text, meshtest.OneItem) }
	item := func(text string) string { return meshtest.Model(meshtest.TetraObject, text) }
	tests := []struct{ name, model, words string }{
		{"no XML", "hello", "has text outside its root"},
		{"nothing but a comment", "<!-- -->", "has no root element"},
		{"cut off", meshtest.SoundModel[:len(meshtest.SoundModel)-20], "ends in the middle"},
		{"another namespace", change("core/2015/02", "core/2099"), "does not begin with <model>"},
		{"two models", meshtest.SoundModel + "<model/>", "second root element"},
		{"tags crossed", change("</build></model>", "</model></build>"), "has no start tag"},
		{"document type", `<!DOCTYPE model [<!ENTITY a "b">]>` + meshtest.SoundModel, "document type"},
		{"entity", change("<resources>", `<metadata name="Title">&a;</metadata><resources>`), "invalid character entity"},
		{"another encoding", change("UTF-8", "ISO-8859-1"), `line 1: is encoded in "ISO-8859-1"`},
		{"UTF-16", "\xFE\xFF\x00<", "UTF-16"},
		{"not UTF-8", change("tetra", "\xFF"), "invalid UTF-8"},
		{"prefix not declared", change("<resources>", "<q:x/><resources>"), "prefix that is not declared"},
		{"attribute prefix not declared", change("<build>", `<build q:x="1">`), "prefix that is not declared"},
		{"xsi", change(` xmlns:v=`, ` xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance" xsi:schemaLocation="x" xmlns:v=`), "xsi:schemaLocation, of a namespace"},
		{"attribute twice", change(`unit="millimeter"`, `unit="millimeter" unit="inch"`), "the attribute unit twice"},
		{"unknown attribute", change(`unit=`, `units="x" unit=`), `the attribute "units", which is not allowed there`},
		{"unknown unit", change("millimeter", "league"), `unknown unit "league"`},
		{"unknown element", change("<resources>", "<thing/><resources>"), "<thing> is not allowed in <model>"},
		{"stray text", change("<resources>", "<resources>stray"), `<resources> holds the text "stray"`},
		{"deep", change("<resources>", strings.Repeat("<v:a>", 120)), "100 deep"},
		{"no resources", meshtest.ModelHead + "<build/></model>", "there is no <resources>"},
		{"resources twice", change("<build>", "<resources/><build>"), "second <resources>"},
		{"no build", meshtest.ModelHead + "<resources/></model>", "has no <build>"},
		{"extension not declared", change("unit=", `requiredextensions="q" unit=`), "a prefix that is not declared"},
		{"extension not read", change("unit=", `requiredextensions="p b" unit=`), `requires the extension "beamlattice/2017/02"`},
		{"metadata without name", change("<resources>", "<metadata>x</metadata><resources>"), "<metadata> has no name"},
		{"unknown attribute of metadata", change("<resources>", `<metadata name="Own" colour="red">x</metadata><resources>`), `the attribute "colour"`},
		{"metadata twice", change("<resources>", `<metadata name="Title">x</metadata><metadata name="Title">y</metadata><resources>`), `two metadata of the name "Title"`},
		{"metadata of an object twice", object(`<object id="1"><metadatagroup><metadata name="a"/><metadata name="a"/></metadatagroup>` + meshtest.TetraMesh + `</object>`), `two metadata of the name "a"`},
		{"metadata prefix", change("<resources>", `<metadata name="q:Own">x</metadata><resources>`), "prefix that is not declared"},

		{"unknown attribute of an object", object(`<object id="1" colour="red">` + meshtest.TetraMesh + `</object>`), `the attribute "colour"`},
		{"unknown attribute of a component", object(meshtest.TetraObject + `<object id="2"><components><component objectid="1" plate="2"/></components></object>`), `the attribute "plate"`},
		{"metadata of an object without name", object(`<object id="1"><metadatagroup><metadata/></metadatagroup>` + meshtest.TetraMesh + `</object>`), "<metadata> has no name"},
		{"a boolean shape", change(meshtest.TetraMesh, `<q:booleanshape xmlns:q="http://example.com/booleanoperations/2023/07"/>`), "has a boolean operation (<booleanshape>), which is not supported, and no triangles"},
		{"object without id", object(`<object>` + meshtest.TetraMesh + `</object>`), `the id ""`},
		{"id 0", object(`<object id="0">` + meshtest.TetraMesh + `</object>`), `the id "0"`},
		{"id too large", object(`<object id="2147483648">` + meshtest.TetraMesh + `</object>`), `the id "2147483648"`},
		{"id twice", object(meshtest.TetraObject + meshtest.TetraObject), "has the id 1, which a <object> has already"},
		{"id of an extension twice", object(`<v:thing id="1"/>` + meshtest.TetraObject), "which a <thing> has already"},
		{"object type", object(`<object id="1" type="toy">` + meshtest.TetraMesh + `</object>`), `of the type "toy"`},
		{"empty object", object(`<object id="1"/>`), "neither a <mesh> nor <components>"},
		{"two meshes", object(`<object id="1">` + meshtest.TetraMesh + meshtest.TetraMesh + `</object>`), "a second <mesh>"},
		{"no triangles element", object(`<object id="1"><mesh><vertices/></mesh></object>`), "lacks <vertices> or <triangles>"},
		{"triangles first", object(`<object id="1"><mesh><triangles/><vertices/></mesh></object>`), "<triangles> is not allowed in <mesh>"},
		{"no triangles", object(`<object id="1"><mesh><vertices/><triangles/></mesh></object>`), "a solid has 4 or more"},
		{"nothing but beams", object(`<object id="1"><mesh><vertices/><triangles/><b:beamlattice/></mesh></object>`), "has a beam lattice (<beamlattice>), which is not supported"},
		{"no y", change(` y="0"`, ""), "a vertex has no y"},
		{"word for a number", change(`x="1"`, `x="one"`), `vertex 1: "one" is not a number`},
		{"comma", change(`x="1"`, `x="1,0"`), "not a comma"},
		{"infinite", change(`x="1"`, `x="INF"`), "not a finite number"},
		{"too large", change(`x="1"`, `x="1e39"`), "not a finite number"},
		{"far away", change(`x="1"`, `x="1e12"`), "too far for any model"},
		{"unknown attribute of a vertex", change(`x="1"`, `x="1" w="1"`), `the attribute "w"`},
		{"text in a vertex", change(`z="0"/>`, `z="0">1</vertex>`), `<vertex> holds the text "1"`},
		{"index beyond", change(`v3="1"`, `v3="4"`), "triangle 0 uses vertex 4, but there are 4, counted from 0"},
		{"index below", change(`v3="1"`, `v3="-1"`), `v3 is "-1"`},
		{"index not whole", change(`v3="1"`, `v3="1.0"`), `v3 is "1.0"`},
		{"index missing", change(`v3="1"`, ``), "has no v3"},
		{"index twice", change(`v3="1"`, `v3="1" v3="1"`), "the attribute v3 twice"},

		{"item without object", item(`<item/>`), `the id ""`},
		{"item of nothing", item(`<item objectid="9"/>`), "places object 9, but no such object is defined above it"},
		{"item of a material", object(`<basematerials id="1"><base name="a" displaycolor="#000000"/></basematerials>`), "which is not an object but a <basematerials>"},
		{"item of type other", object(`<object id="1" type="other">` + meshtest.TetraMesh + `</object>`), "of the type other and may not be built"},
		{"other inside", meshtest.Model(`<object id="1" type="other">`+meshtest.TetraMesh+`</object><object id="2"><components><component objectid="1"/></components></object>`, `<item objectid="2"/>`), "of the type other"},
		{"nothing built", item(``), "has no triangles"},
		{"eleven numbers", item(`<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0"/>`), "a transform of 11 numbers; it needs 12"},
		{"not numbers", item(`<item objectid="1" transform="1 0 0 0 1 0 0 0 x 0 0 0"/>`), `"x" is not a number`},
		{"flat", item(`<item objectid="1" transform="1 0 0 0 1 0 1 1 0 0 0 0"/>`), "flattens the object"},
		{"huge", item(`<item objectid="1" transform="1e200 0 0 0 1e200 0 0 0 1e200 0 0 0"/>`), "flattens the object"},
		{"component of itself", object(`<object id="1"><components><component objectid="1"/></components></object>`), "object 1: places object 1, but no such object is defined above it"},
		{"component before its object", meshtest.Model(`<object id="2"><components><component objectid="1"/></components></object>`+meshtest.TetraObject, meshtest.OneItem), "no such object is defined above it"},
		{"path to nothing", item(`<item objectid="1" p:path="/3D/none.model"/>`), "has no part /3d/none.model"},
		{"path up", item(`<item objectid="1" p:path="/../none.model"/>`), "is not the name of a part"},
	}
	for _, tt := range tests {
		list = append(list, fault{tt.name, meshtest.Package(tt.model), tt.words})
	}
	return list
}

// The rules for colours and materials.
func Test3MFPropertyFaults(t *testing.T) {
	const base = `<basematerials id="5"><base name="a" displaycolor="#00FF00"/><base name="b" displaycolor="#00FF00FF"/></basematerials>`
	const colours = `<m:colorgroup id="6"><m:color color="#112233"/></m:colorgroup>`
	const textures = `<m:texture2d id="7" path="/a.png" contenttype="image/png"/><m:texture2dgroup id="8" texid="7"><m:tex2coord u="0" v="0.5"/></m:texture2dgroup>`
	const composite = `<m:compositematerials id="9" matid="5" matindices="0 1"><m:composite values="0.5 0.5"/></m:compositematerials>`
	const multi = `<m:multiproperties id="10" pids="5 6 8"><m:multi pindices="0 0 0"/></m:multiproperties>`
	const all = base + colours + textures + composite + multi
	open3MF(t, meshtest.Package(meshtest.Model(all+meshtest.TetraObject, meshtest.OneItem)))

	with := func(old, text string) string {
		if !strings.Contains(all, old) {
			t.Fatalf("no %s to change", old)
		}
		return all + "|" + strings.Replace(all, old, text, 1)
	}
	tests := []struct{ name, resources, words string }{
		{"id twice", with(`<m:colorgroup id="6"`, `<m:colorgroup id="5"`), "<colorgroup> has the id 5, which a <basematerials> has already"},
		{"no colour", with(` color="#112233"`, ``), "has no color"},
		{"bad colour", with(`#112233`, `#1122`), "has the colour"},
		{"bad display colour", with(`#00FF00"`, `green"`), "has the colour"},
		{"empty group", with(`<m:color color="#112233"/>`, ``), "colorgroup 6 holds no <color>"},
		{"texture type", with(`image/png`, `image/gif`), "has the content type"},
		{"texture path", with(` path="/a.png"`, ``), "has no path"},
		{"no texture", with(` texid="7"`, ``), "texid"},
		{"texture of colours", with(`texid="7"`, `texid="6"`), "texid"},
		{"bad place", with(`v="0.5"`, `v="half"`), `"half" is not a number`},
		{"no material", with(`matid="5"`, ``), "matid"},
		{"material of colours", with(`matid="5"`, `matid="6"`), "matid"},
		{"no indices", with(` matindices="0 1"`, ``), "has no matindices"},
		{"index beyond", with(`matindices="0 1"`, `matindices="0 2"`), "mixes material"},
		{"no shares", with(` values="0.5 0.5"`, ``), "has no values"},
		{"no layers", with(` pids="5 6 8"`, ``), "has no pids"},
		{"layer of nothing", with(`pids="5 6 8"`, `pids="5 66"`), "names \"66\""},
		{"two materials", with(`pids="5 6 8"`, `pids="5 9"`), "materials (base or composite) more than once"},
		{"two colours", with(`pids="5 6 8"`, `pids="6 6"`), "colorgroup more than once"},
		{"material on top", with(`pids="5 6 8"`, `pids="6 5"`), "not as its first layer"},
		{"multi of itself", with(`pids="5 6 8"`, `pids="10"`), "names other multiproperties"},
		{"layer index", with(`pindices="0 0 0"`, `pindices="0 x"`), "takes number"},
		{"object index alone", all + `|` + all + `<object id="1" pindex="0">` + meshtest.TetraMesh + `</object>`, "a pindex but no pid"},
		{"object of nothing", all + `|` + all + `<object id="1" pid="55" pindex="0">` + meshtest.TetraMesh + `</object>`, "no such properties are defined above it"},
		{"object index beyond", all + `|` + all + `<object id="1" pid="5" pindex="2">` + meshtest.TetraMesh + `</object>`, `has the pindex "2"`},
		{"triangle of nothing", all + `|` + all + `<object id="1">` + strings.Replace(meshtest.TetraMesh, `v3="1"`, `v3="1" pid="55" p1="0"`, 1) + `</object>`, "has the pid 55"},
		{"triangle index beyond", all + `|` + all + `<object id="1">` + strings.Replace(meshtest.TetraMesh, `v3="1"`, `v3="1" pid="6" p1="1"`, 1) + `</object>`, "has the property p1=1"},
		{"triangle index alone", all + `|` + all + `<object id="1">` + strings.Replace(meshtest.TetraMesh, `v3="1"`, `v3="1" p1="0"`, 1) + `</object>`, "neither it nor its object has a pid"},
		{"material runs", all + `|` + all + `<object id="1" pid="5" pindex="0">` + strings.Replace(meshtest.TetraMesh, `v3="1"`, `v3="1" p1="0" p2="1" p3="0"`, 1) + `</object>`, "from one base material to another"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			_, resources, _ := strings.Cut(tt.resources, "|")
			meshtest.WantFault(t, "part.3mf", meshtest.Package(meshtest.Model(resources, meshtest.OneItem)), tt.words)
		})
	}
}

// assembly places objects in objects, moved, scaled, turned and mirrored.
func assembly() []byte {
	resources := meshtest.TetraObject +
		`<object id="2" type="support">` + meshtest.TetraMesh + `</object>` +
		`<object id="3" partnumber="N-3">` + meshtest.TetraMesh + `</object>` +
		`<object id="4">` + meshtest.TetraMesh + `</object>` +
		`<object id="5" name="inner"><components><component objectid="1" transform="2 0 0 0 2 0 0 0 2 10 0 0"/><component objectid="2"/><component objectid="4"/></components></object>` +
		`<object id="6"><components><component objectid="5" transform="1 0 0 0 1 0 0 0 1 0 100 0"/><component objectid="3" transform="1 0 0 0 1 0 0 0 -1 0 0 0"/></components></object>`
	return meshtest.Package(meshtest.Model(resources, `<item objectid="6" transform="0 1 0 -1 0 0 0 0 1 0 0 1000"/><item objectid="2"/><item objectid="1"/><item objectid="4"/>`))
}

func Test3MFAssembly(t *testing.T) {
	list := open3MF(t, assembly())
	if got := strings.Join(meshtest.Names(list), " "); got != "tetra-1 inner N-3 tetra-2 object-4" {
		t.Fatalf("meshes %s", got)
	}
	meshtest.WantNear(t, "volume", list[0].Volume, 8.0/6)
	// Moved by 10 0 0, then by 0 100 0, then turned by a quarter about z, then lifted.
	meshtest.WantNear(t, "x", list[0].Max[0], -100)
	meshtest.WantNear(t, "x", list[0].Min[0], -102)
	meshtest.WantNear(t, "y", list[0].Min[1], 10)
	meshtest.WantNear(t, "y", list[0].Max[1], 12)
	meshtest.WantNear(t, "z", list[0].Min[2], 1000)

	mirrored := list[2]
	meshtest.WantNear(t, "volume", mirrored.Volume, 1.0/6)
	meshtest.WantNear(t, "z", mirrored.Min[2], 999)
	if mirrored.Turned {
		t.Error("a mirrored part is taken for one inside out")
	}
	if list[0].Hash == list[3].Hash {
		t.Error("the same part in two places has one hash")
	}
}

func Test3MFProduction(t *testing.T) {
	far := meshtest.Model(meshtest.TetraObject+`<object id="8"><components><component objectid="1" transform="1 0 0 0 1 0 0 0 1 5 0 0"/></components></object>`, `<item objectid="1"/>`)
	root := meshtest.Model(`<object id="1" name="here"><components><component objectid="8" p:path="/3D/Far.model"/></components></object>`,
		`<item objectid="1"/><item objectid="1" p:path="/3D/far.model"/>`)
	list := open3MF(t, meshtest.Package(root, meshtest.Entry{"3D/far.model", far}))
	if got := strings.Join(meshtest.Names(list), " "); got != "here tetra" {
		t.Fatalf("meshes %s", got)
	}
	meshtest.WantNear(t, "x", list[0].Min[0], 5)

	back := strings.Replace(far, `<component objectid="1"`, `<component objectid="1" p:path="/3D/3dmodel.model"`, 1)
	for name, tt := range map[string]struct{ far, words string }{
		"path in a part that is not the root": {back, "only the root model may do"},
		"another unit":                        {strings.Replace(far, "millimeter", "inch", 1), "has another unit"},
		"no such object":                      {strings.Replace(far, `id="8"`, `id="88"`, 1), "places object 8 of /3D/far.model, which has no such object"},
	} {
		t.Run(name, func(t *testing.T) {
			meshtest.WantFault(t, "part.3mf", meshtest.Package(root, meshtest.Entry{"3D/far.model", tt.far}), tt.words)
		})
	}
}

// Assemblies of assemblies that stand for more meshes than there are atoms.
func Test3MFAssembliesDoNotBlowUp(t *testing.T) {
	resources := func(leaf string) string {
		var b strings.Builder
		b.WriteString(leaf)
		for i := 2; i <= 90; i++ {
			fmt.Fprintf(&b, `<object id="%d"><components>%s</components></object>`, i, strings.Repeat(fmt.Sprintf(`<component objectid="%d"/>`, i-1), 10))
		}
		return b.String()
	}
	meshtest.WantFault(t, "part.3mf", meshtest.Package(meshtest.Model(resources(meshtest.TetraObject), `<item objectid="90"/>`)), "more than 20000 meshes")
	supports := strings.Replace(meshtest.TetraObject, "<object", `<object type="support"`, 1)
	meshtest.WantFault(t, "part.3mf", meshtest.Package(meshtest.Model(resources(supports), `<item objectid="90"/>`)), "has no triangles")
}

// Assemblies nested as deep as the limit are read; one level more, and more resources than
// the limit, are refused.
func Test3MFLimits(t *testing.T) {
	nested := func(levels int) []byte {
		var b strings.Builder
		b.WriteString(meshtest.TetraObject)
		for i := 2; i <= levels+1; i++ {
			fmt.Fprintf(&b, `<object id="%d"><components><component objectid="%d"/></components></object>`, i, i-1)
		}
		return meshtest.Package(meshtest.Model(b.String(), fmt.Sprintf(`<item objectid="%d"/>`, levels+1)))
	}
	meshtest.WantTetrahedron(t, open3MF(t, nested(100))[0], 1)
	meshtest.WantFault(t, "part.3mf", nested(101), "object 102: assemblies are nested more than 100 deep")

	var b strings.Builder
	for i := range 200_001 {
		fmt.Fprintf(&b, `<v:a id="%d"/>`, i+1)
	}
	meshtest.WantFault(t, "part.3mf", meshtest.Package(meshtest.Model(b.String(), "")), "more than 200000 resources")
}
