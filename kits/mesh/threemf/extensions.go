package threemf

import (
	"fmt"
	"strings"

	"dryfit/kits/mesh/scan"
	"dryfit/kits/plain"
)

// Namespaces of extensions that this reader knows.
const (
	materialSpace    = "http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
	productionSpace  = "http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
	alternativeSpace = "http://schemas.microsoft.com/3dmanufacturing/production/alternatives/2021/04"
	sliceSpace       = "http://schemas.microsoft.com/3dmanufacturing/slice/2015/07"
	setsSpace        = "http://schemas.microsoft.com/3dmanufacturing/trianglesets/2021/07"
	secureSpace      = "http://schemas.microsoft.com/3dmanufacturing/securecontent/2019/04"
)

// harmless are the extensions that a file may require. Production is read.
// Materials colour the surface. Triangle sets name parts of it. Slices repeat the
// object, cut into layers, beside its mesh; see coarse.
var harmless = []string{materialSpace, productionSpace, sliceSpace, setsSpace}

// shapes recognises extensions that change the shape of an object by words in their
// namespaces, so that every version is recognised.
var shapes = []struct{ word, what string }{
	{"/beamlattice/", "a beam lattice"},
	{"/displacement/", "a displaced surface"},
	{"/booleanoperations/", "a boolean operation"},
	{"/volumetric/", "a volume given by a function"},
	{"/implicit/", "a volume given by a function"},
	{"/securecontent/", "encrypted content"},
	{"/tetrahedron/", "tetrahedra"},
}

// extensions rejects a file that requires an unsupported extension, also in a version that
// is not known: "consumers that do not support those extensions MUST fail to edit or
// manufacture that document" (core specification 1.4, section 2.3.1). One that is declared
// but not required is passed over, as that section allows, unless it is known to change the
// shape; see shaped.
func (m *modelPart) extensions(required string) error {
	for prefix := range strings.FieldsSeq(required) {
		space, ok := m.space(prefix)
		if !ok {
			return fmt.Errorf("requires the extension %s, a prefix that is not declared", scan.Quote(prefix))
		}
		known := false
		for _, h := range harmless {
			known = known || space == h
		}
		switch {
		case known:
		case space == secureSpace:
			return fmt.Errorf("requires the extension %s: its content is encrypted; export it without protection", shorten(space))
		default:
			return fmt.Errorf("requires the extension %s, which is not supported: the part would have another shape; export it as a plain mesh", shorten(space))
		}
	}
	return nil
}

// shorten shows a namespace without the prefix common to the consortium's.
func shorten(space string) string {
	return scan.Quote(strings.TrimPrefix(space, "http://schemas.microsoft.com/3dmanufacturing/"))
}

// shaped says what an element of an extension adds to the shape of an object, or
// nothing.
func shaped(e element) string {
	for _, s := range shapes {
		if strings.Contains(e.space, s.word) {
			return fmt.Sprintf("%s (<%s>)", s.what, plain.Text(e.name))
		}
	}
	return ""
}

// coarse says when the mesh of an object is only a stand-in for what is printed.
func (m *modelPart) coarse(e element) string {
	if v, _ := e.look(sliceSpace, "meshresolution"); v == "lowres" {
		return `slices, for which its triangles are only a coarse stand-in (meshresolution "lowres")`
	}
	if v, _ := e.look(alternativeSpace, "modelresolution"); v != "" && v != "fullres" {
		return fmt.Sprintf("an alternative that is finer (modelresolution %s)", scan.Quote(v))
	}
	return ""
}
