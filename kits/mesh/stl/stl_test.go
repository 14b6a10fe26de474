package stl_test

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
)

func TestSTLForms(t *testing.T) {
	solid := meshtest.STL(meshtest.Tetrahedron...)
	copy(solid, "solid but binary")
	forms := map[string][]byte{
		"binary":                  meshtest.STL(meshtest.Tetrahedron...),
		"binary headed solid":     solid,
		"text":                    []byte(meshtest.TetrahedronSTL),
		"text, lines in CR LF":    []byte(strings.ReplaceAll(meshtest.TetrahedronSTL, "\n", "\r\n")),
		"text, lines in CR":       []byte(strings.ReplaceAll(meshtest.TetrahedronSTL, "\n", "\r")),
		"text, upper case":        []byte(strings.ToUpper(meshtest.TetrahedronSTL)),
		"text, byte order mark":   []byte("\xEF\xBB\xBF" + meshtest.TetrahedronSTL),
		"text, one line":          []byte("solid x\n" + strings.Join(strings.Fields(meshtest.TetrahedronSTL)[2:], " ")),
		"text, word by word":      []byte("solid\n" + strings.Join(strings.Fields(strings.ReplaceAll(meshtest.TetrahedronSTL, "tetra", ""))[1:], "\n")),
		"text, no last line end":  []byte(strings.TrimSpace(meshtest.TetrahedronSTL)),
		"text, a solid with none": []byte(meshtest.TetrahedronSTL + "solid empty\nendsolid empty\n"),
	}
	for name, data := range forms {
		t.Run(name, func(t *testing.T) {
			list := meshtest.Open(t, "part.STL", data, files.Options{Unit: 10})
			if len(list) != 1 || list[0].Name != "part" {
				t.Fatalf("meshes %v, want the one mesh part", meshtest.Names(list))
			}
			meshtest.WantTetrahedron(t, list[0], 10)
		})
	}
}

func TestSTLSolidsOfOneFile(t *testing.T) {
	second := strings.ReplaceAll(meshtest.TetrahedronSTL, "tetra", " Second  Part\x07 ")
	list := meshtest.Open(t, "two.stl", []byte(meshtest.TetrahedronSTL+second+meshtest.TetrahedronSTL), files.Options{})
	if got := strings.Join(meshtest.Names(list), "|"); got != "tetra-1|Second Part|tetra-2" {
		t.Errorf("names %s", got)
	}
	if list[0].Hash == list[1].Hash || list[0].Hash == list[2].Hash {
		t.Error("solids of one file share a hash")
	}
}

func TestSTLFaults(t *testing.T) {
	good := meshtest.STL(meshtest.Tetrahedron...)
	with := func(at int, v float32) []byte {
		b := bytes.Clone(good)
		binary.LittleEndian.PutUint32(b[at:], math.Float32bits(v))
		return b
	}
	cut := bytes.Clone(good[:len(good)-1])
	copy(cut, "solid")
	nan := float32(math.NaN())
	tests := []struct {
		name  string
		data  []byte
		words string
	}{
		{"nothing", nil, "is empty"},
		{"no triangles", meshtest.STL(), "has no triangles"},
		{"short", []byte("abc"), "only 3 bytes"},
		{"cut off", good[:len(good)-1], "should have 4 triangles, so 284 bytes, but has 283: it was probably truncated"},
		{"cut off, headed solid", cut, "was probably truncated"},
		{"bytes to spare", append(bytes.Clone(good), 0), "has extra bytes"},
		{"not a number", with(84+50+12, nan), "corner 1 of triangle 2 has a coordinate that is not a finite number"},
		{"infinite", with(84+150+44, float32(math.Inf(-1))), "corner 3 of triangle 4"},
		{"first corner", with(84+12, nan), "corner 1 of triangle 1"},
		{"far away", with(84+12, 3e9), "lies 3e+09 mm from the origin"},
		{"UTF-16", []byte("\xFF\xFEs\x00o\x00l\x00i\x00d\x00"), "UTF-16"},
		{"zip", []byte("PK\x03\x04" + strings.Repeat("x", 100)), "zip archive"},
		{"web page", []byte("<!DOCTYPE html>" + strings.Repeat("x", 100)), "does not begin with the word solid"},
		{"text without solids", []byte("solid\nendsolid\n"), "has no triangles"},
		{"text cut off", []byte(meshtest.TetrahedronSTL[:strings.Index(meshtest.TetrahedronSTL, "vertex 1")]), "line 6: the file ends in the middle of a solid"},
		{"no endsolid", []byte(strings.Replace(meshtest.TetrahedronSTL, "endsolid tetra", "", 1)), "ends in the middle"},
		{"word", []byte(strings.Replace(meshtest.TetrahedronSTL, "outer", "inner", 1)), `line 3: "inner" where outer is expected`},
		{"four corners", []byte(strings.Replace(meshtest.TetrahedronSTL, "endloop", "vertex 1 1 1\nendloop", 1)), `line 7: "vertex" where endloop`},
		{"comma", []byte(strings.Replace(meshtest.TetrahedronSTL, "1.0", "1,0", 1)), `line 20: "1,0" is not a number; write decimals with a point`},
		{"nan", []byte(strings.Replace(meshtest.TetrahedronSTL, "1.0", "NaN", 1)), "not a finite number"},
		{"overflow", []byte(strings.Replace(meshtest.TetrahedronSTL, "1.0", "1e999", 1)), "too large for a number"},
		{"float32 overflow", []byte(strings.Replace(meshtest.TetrahedronSTL, "1.0", "1e300", 1)), "not a finite number"},
		{"hexadecimal", []byte(strings.Replace(meshtest.TetrahedronSTL, "1.0", "0x1p3", 1)), "is not a number"},
		{"zero byte", []byte(strings.Repeat("solid\nendsolid\n", 60) + "\x00"), "is not text"},
		{"long line", []byte("solid " + strings.Repeat("x", 3<<20)), "longer than 1 MB"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { meshtest.WantFault(t, "part.stl", tt.data, tt.words) })
	}
}

func TestSTLRoundTripInBlocks(t *testing.T) {
	var list []mesh.Triangle
	for i := range 2*65536 + 4321 {
		x := float32(i)
		list = append(list, mesh.Triangle{{x, 0, 0}, {x, 1, 0}, {x, 0, 3}})
	}
	m := meshtest.Open(t, "a.stl", meshtest.STL(list...), files.Options{})[0]
	got := meshtest.Triangles(t, m)
	if len(got) != len(list) {
		t.Fatalf("%d triangles, want %d", len(got), len(list))
	}
	for i := range list {
		if got[i] != list[i] {
			t.Fatalf("triangle %d is %v, want %v", i, got[i], list[i])
		}
	}
	held, err := mesh.FromTriangles("a", list)
	if err != nil {
		t.Fatal(err)
	}
	meshtest.WantNear(t, "area", m.Area, held.Area)
	if m.Max != held.Max || m.Min != held.Min {
		t.Errorf("box %v %v, want %v %v", m.Min, m.Max, held.Min, held.Max)
	}
}

func TestInsideOutIsTurned(t *testing.T) {
	turned := make([]mesh.Triangle, len(meshtest.Tetrahedron))
	for i, tri := range meshtest.Tetrahedron {
		turned[i] = mesh.Triangle{tri[0], tri[2], tri[1]}
	}
	m := meshtest.Open(t, "a.stl", meshtest.STL(turned...), files.Options{})[0]
	if !m.Turned {
		t.Error("not said to be turned")
	}
	meshtest.WantTetrahedron(t, m, 1)
	for i, tri := range meshtest.Triangles(t, m) {
		if tri != meshtest.Tetrahedron[i] {
			t.Errorf("triangle %d is given out as %v, want %v", i, tri, meshtest.Tetrahedron[i])
		}
	}
}

func TestHashFollowsContentAndUnit(t *testing.T) {
	hash := func(data []byte, unit float64) mesh.Hash {
		return meshtest.Open(t, "a.stl", data, files.Options{Unit: unit})[0].Hash
	}
	good := meshtest.STL(meshtest.Tetrahedron...)
	header := bytes.Clone(good)
	copy(header, "made on another day")
	if hash(good, 1) != hash(header, 0) {
		t.Error("the header, which decides no triangle, changes the hash")
	}
	if hash(good, 1) == hash(good, 2) {
		t.Error("the unit does not change the hash")
	}
	if hash(good, 1) == hash(meshtest.STL(meshtest.Tetrahedron[1], meshtest.Tetrahedron[0], meshtest.Tetrahedron[2], meshtest.Tetrahedron[3]), 1) {
		t.Error("another sequence has the same hash")
	}
	if got := hash(good, 1).String(); len(got) != 32 {
		t.Errorf("hash is written %q", got)
	}
}

func TestChangedFileIsNoticed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "part.stl")
	if err := os.WriteFile(path, meshtest.STL(meshtest.Tetrahedron...), 0o600); err != nil {
		t.Fatal(err)
	}
	list, err := files.Open(path, files.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, time.Time{}, time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	var buf [4]mesh.Triangle
	if _, err := list[0].Read(0, buf[:]); err == nil || !strings.Contains(err.Error(), "changed while it was being measured; run again") {
		t.Errorf("error %v", err)
	}
}
