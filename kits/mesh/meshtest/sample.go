package meshtest

import (
	"archive/zip"
	"bytes"
)

// CubeCorners and CubeFaces are the text of a cube of 2 mm as OBJ.
const CubeCorners = `v 0 0 0
v 2 0 0
v 2 2 0
v 0 2 0
v 0 0 2
v 2 0 2
v 2 2 2
v 0 2 2
`

const CubeFaces = `f 4 3 2 1
f 5 6 7 8
f 1 2 6 5
f 2 3 7 6
f 3 4 8 7
f 4 1 5 8
`

// Entry is an entry of a package: its name and its text.
type Entry [2]string

const ContentTypes = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>`

const RelationsHead = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">`

const ModelRelation = `<Relationship Id="r1" Target="/3D/3dmodel.model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/>`

const Relations = RelationsHead + ModelRelation + `</Relationships>`

// Package makes a package. Files replace those of a sound one that have their names.
func Package(model string, more ...Entry) []byte {
	files := []Entry{{"[Content_Types].xml", ContentTypes}, {"_rels/.rels", Relations}, {"3D/3dmodel.model", model}}
	for _, m := range more {
		replaced := false
		for i := range files {
			if files[i][0] == m[0] {
				files[i], replaced = m, true
			}
		}
		if !replaced {
			files = append(files, m)
		}
	}
	return Zip(files...)
}

func Zip(files ...Entry) []byte {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		if f[1] == "" {
			continue
		}
		w, err := z.Create(f[0])
		if err != nil {
			panic(err)
		}
		if _, err := w.Write([]byte(f[1])); err != nil {
			panic(err)
		}
	}
	if err := z.Close(); err != nil {
		panic(err)
	}
	return b.Bytes()
}

const ModelHead = `<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en-US" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"
 xmlns:m="http://schemas.microsoft.com/3dmanufacturing/material/2015/02"
 xmlns:p="http://schemas.microsoft.com/3dmanufacturing/production/2015/06"
 xmlns:s="http://schemas.microsoft.com/3dmanufacturing/slice/2015/07"
 xmlns:b="http://schemas.microsoft.com/3dmanufacturing/beamlattice/2017/02"
 xmlns:v="http://example.com/vendor">
`

const TetraMesh = `<mesh><vertices><vertex x="0" y="0" z="0"/><vertex x="1" y="0" z="0"/><vertex x="0" y="1" z="0"/><vertex x="0" y="0" z="1"/></vertices>` +
	`<triangles><triangle v1="0" v2="2" v3="1"/><triangle v1="0" v2="1" v3="3"/><triangle v1="0" v2="3" v3="2"/><triangle v1="1" v2="2" v3="3"/></triangles></mesh>`

// Model makes a model of resources and the inside of a build.
func Model(resources, build string) string {
	return ModelHead + "<resources>" + resources + "</resources><build>" + build + "</build></model>"
}

const TetraObject = `<object id="1" name="tetra">` + TetraMesh + `</object>`

const OneItem = `<item objectid="1"/>`

var SoundModel = Model(TetraObject, OneItem)
