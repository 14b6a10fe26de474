package mesh

import (
	"bytes"
	"encoding/binary"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

func mustOpen(t *testing.T, name string, data []byte, o Options) []*Mesh {
	t.Helper()
	list, err := open(inputBytes(name, data), o)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// wantFault checks that a file is refused with words that help.
func wantFault(t *testing.T, name string, data []byte, words string) {
	t.Helper()
	list, err := open(inputBytes(name, data), Options{})
	if err == nil {
		t.Fatalf("read %d meshes; want the fault %q", len(list), words)
	}
	if !strings.Contains(err.Error(), words) {
		t.Errorf("fault %q does not say %q", err, words)
	}
}

func triangles(t *testing.T, m *Mesh) []Triangle {
	t.Helper()
	var list []Triangle
	err := m.Blocks(func(_ int, block []Triangle) error {
		list = append(list, block...)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

func binarySTLOf(list ...Triangle) []byte {
	var b bytes.Buffer
	if err := WriteSTL(&b, list); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// tetrahedron is the right one with sides 1: volume 1/6, area 3/2 + sqrt(3)/2.
var tetrahedron = []Triangle{
	{{0, 0, 0}, {0, 1, 0}, {1, 0, 0}},
	{{0, 0, 0}, {1, 0, 0}, {0, 0, 1}},
	{{0, 0, 0}, {0, 0, 1}, {0, 1, 0}},
	{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
}

const textTetrahedron = `solid tetra
 facet normal 0 0 -1
  outer loop
   vertex 0 0 0
   vertex 0 1 0
   vertex 1 0 0
  endloop
 endfacet
 facet normal 0 -1 0
  outer loop
   vertex 0 0 0
   vertex 1 0 0
   vertex 0 0 1
  endloop
 endfacet
 facet normal nan nan nan
  outer loop
   vertex -0 0 0
   vertex 0 0 1
   vertex 0 1.0 0
  endloop
 endfacet
 facet normal 1 1 1
  outer loop
   vertex 1 0 0
   vertex 0 +1e0 0
   vertex 0 0 100E-2
  endloop
 endfacet
endsolid tetra
`

func wantTetrahedron(t *testing.T, m *Mesh, scale float64) {
	t.Helper()
	if m.Len() != 4 {
		t.Fatalf("%d triangles, want 4", m.Len())
	}
	wantNear(t, "volume", m.Volume, scale*scale*scale/6)
	wantNear(t, "area", m.Area, scale*scale*2.3660254037844386)
	for k := range 3 {
		wantNear(t, "centre", m.Centre[k], scale/4)
		wantNear(t, "size", m.Size()[k], scale)
	}
}

func wantNear(t *testing.T, what string, got, want float64) {
	t.Helper()
	if math.Abs(got-want) > 1e-6*max(1, math.Abs(want)) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

func TestSTLForms(t *testing.T) {
	solid := binarySTLOf(tetrahedron...)
	copy(solid, "solid but binary")
	forms := map[string][]byte{
		"binary":                  binarySTLOf(tetrahedron...),
		"binary headed solid":     solid,
		"text":                    []byte(textTetrahedron),
		"text, lines in CR LF":    []byte(strings.ReplaceAll(textTetrahedron, "\n", "\r\n")),
		"text, lines in CR":       []byte(strings.ReplaceAll(textTetrahedron, "\n", "\r")),
		"text, upper case":        []byte(strings.ToUpper(textTetrahedron)),
		"text, byte order mark":   []byte("\xEF\xBB\xBF" + textTetrahedron),
		"text, one line":          []byte("solid x\n" + strings.Join(strings.Fields(textTetrahedron)[2:], " ")),
		"text, word by word":      []byte("solid\n" + strings.Join(strings.Fields(strings.ReplaceAll(textTetrahedron, "tetra", ""))[1:], "\n")),
		"text, no last line end":  []byte(strings.TrimSpace(textTetrahedron)),
		"text, a solid with none": []byte(textTetrahedron + "solid empty\nendsolid empty\n"),
	}
	for name, data := range forms {
		t.Run(name, func(t *testing.T) {
			list := mustOpen(t, "part.STL", data, Options{Unit: 10})
			if len(list) != 1 || list[0].Name != "part" {
				t.Fatalf("meshes %v, want the one mesh part", names(list))
			}
			wantTetrahedron(t, list[0], 10)
		})
	}
}

func names(list []*Mesh) (all []string) {
	for _, m := range list {
		all = append(all, m.Name)
	}
	return all
}

func TestSTLSolidsOfOneFile(t *testing.T) {
	second := strings.ReplaceAll(textTetrahedron, "tetra", " Second  Part\x07 ")
	list := mustOpen(t, "two.stl", []byte(textTetrahedron+second+textTetrahedron), Options{})
	if got := strings.Join(names(list), "|"); got != "tetra-1|Second Part|tetra-2" {
		t.Errorf("names %s", got)
	}
	if list[0].Hash == list[1].Hash || list[0].Hash == list[2].Hash {
		t.Error("solids of one file share a hash")
	}
}

func TestSTLFaults(t *testing.T) {
	good := binarySTLOf(tetrahedron...)
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
		{"no triangles", binarySTLOf(), "holds no triangles"},
		{"short", []byte("abc"), "only 3 bytes"},
		{"cut off", good[:len(good)-1], "announces 4 triangles, which are 284 bytes, but has 283: it was probably cut off"},
		{"cut off, headed solid", cut, "was probably cut off"},
		{"bytes to spare", append(bytes.Clone(good), 0), "has bytes to spare"},
		{"not a number", with(84+50+12, nan), "corner 1 of triangle 2 has a coordinate that is not a finite number"},
		{"infinite", with(84+150+44, float32(math.Inf(-1))), "corner 3 of triangle 4"},
		{"first corner", with(84+12, nan), "corner 1 of triangle 1"},
		{"far away", with(84+12, 3e9), "lies 3e+09 mm from the origin"},
		{"UTF-16", []byte("\xFF\xFEs\x00o\x00l\x00i\x00d\x00"), "UTF-16"},
		{"zip", []byte("PK\x03\x04" + strings.Repeat("x", 100)), "zip archive"},
		{"web page", []byte("<!DOCTYPE html>" + strings.Repeat("x", 100)), "does not begin with the word solid"},
		{"text without solids", []byte("solid\nendsolid\n"), "holds no triangles"},
		{"text cut off", []byte(textTetrahedron[:strings.Index(textTetrahedron, "vertex 1")]), "line 6: the file ends in the middle of a solid"},
		{"no endsolid", []byte(strings.Replace(textTetrahedron, "endsolid tetra", "", 1)), "ends in the middle"},
		{"word", []byte(strings.Replace(textTetrahedron, "outer", "inner", 1)), `line 3: "inner" where outer should stand`},
		{"four corners", []byte(strings.Replace(textTetrahedron, "endloop", "vertex 1 1 1\nendloop", 1)), `line 7: "vertex" where endloop`},
		{"comma", []byte(strings.Replace(textTetrahedron, "1.0", "1,0", 1)), `line 20: "1,0" is not a number; write decimals with a point`},
		{"nan", []byte(strings.Replace(textTetrahedron, "1.0", "NaN", 1)), "not a finite number"},
		{"overflow", []byte(strings.Replace(textTetrahedron, "1.0", "1e999", 1)), "too large for a number"},
		{"float32 overflow", []byte(strings.Replace(textTetrahedron, "1.0", "1e300", 1)), "not a finite number"},
		{"hexadecimal", []byte(strings.Replace(textTetrahedron, "1.0", "0x1p3", 1)), "is not a number"},
		{"zero byte", []byte(strings.Repeat("solid\nendsolid\n", 60) + "\x00"), "is not text"},
		{"long line", []byte("solid " + strings.Repeat("x", 3<<20)), "longer than 1 MB"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) { wantFault(t, "part.stl", tt.data, tt.words) })
	}
}

func TestSTLRoundTripInBlocks(t *testing.T) {
	var list []Triangle
	for i := range 2*stlChunk + 4321 {
		x := float32(i)
		list = append(list, Triangle{{x, 0, 0}, {x, 1, 0}, {x, 0, 3}})
	}
	m := mustOpen(t, "a.stl", binarySTLOf(list...), Options{})[0]
	got := triangles(t, m)
	if len(got) != len(list) {
		t.Fatalf("%d triangles, want %d", len(got), len(list))
	}
	for i := range list {
		if got[i] != list[i] {
			t.Fatalf("triangle %d is %v, want %v", i, got[i], list[i])
		}
	}
	held, err := FromTriangles("a", list)
	if err != nil {
		t.Fatal(err)
	}
	wantNear(t, "area", m.Area, held.Area)
	if m.Max != held.Max || m.Min != held.Min {
		t.Errorf("box %v %v, want %v %v", m.Min, m.Max, held.Min, held.Max)
	}
}

func TestInsideOutIsTurned(t *testing.T) {
	turned := make([]Triangle, len(tetrahedron))
	for i, tri := range tetrahedron {
		turned[i] = Triangle{tri[0], tri[2], tri[1]}
	}
	m := mustOpen(t, "a.stl", binarySTLOf(turned...), Options{})[0]
	if !m.Turned {
		t.Error("not said to be turned")
	}
	wantTetrahedron(t, m, 1)
	for i, tri := range triangles(t, m) {
		if tri != tetrahedron[i] {
			t.Errorf("triangle %d is given out as %v, want %v", i, tri, tetrahedron[i])
		}
	}
}

func TestHashFollowsContentAndUnit(t *testing.T) {
	hash := func(data []byte, unit float64) Hash {
		return mustOpen(t, "a.stl", data, Options{Unit: unit})[0].Hash
	}
	good := binarySTLOf(tetrahedron...)
	header := bytes.Clone(good)
	copy(header, "made on another day")
	if hash(good, 1) != hash(header, 0) {
		t.Error("the header, which decides no triangle, changes the hash")
	}
	if hash(good, 1) == hash(good, 2) {
		t.Error("the unit does not change the hash")
	}
	if hash(good, 1) == hash(binarySTLOf(tetrahedron[1], tetrahedron[0], tetrahedron[2], tetrahedron[3]), 1) {
		t.Error("another sequence has the same hash")
	}
	if got := hash(good, 1).String(); len(got) != 32 {
		t.Errorf("hash is written %q", got)
	}
}

func TestChangedFileIsNoticed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "part.stl")
	if err := os.WriteFile(path, binarySTLOf(tetrahedron...), 0o600); err != nil {
		t.Fatal(err)
	}
	list, err := OpenFile(path, Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Chtimes(path, time.Time{}, time.Now().Add(time.Hour)); err != nil {
		t.Fatal(err)
	}
	var buf [4]Triangle
	if _, err := list[0].Read(0, buf[:]); err == nil || !strings.Contains(err.Error(), "changed while it was being measured; run again") {
		t.Errorf("error %v", err)
	}
}

func FuzzSTL(f *testing.F) {
	f.Add(binarySTLOf(tetrahedron...))
	f.Add([]byte(textTetrahedron))
	f.Add([]byte("solid\nendsolid"))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := open(inputBytes("part.stl", data), Options{})
		if err == nil {
			wantSound(t, list)
		}
	})
}

// wantSound checks what must hold of every mesh that was read, whatever the file.
func wantSound(t *testing.T, list []*Mesh) {
	t.Helper()
	if len(list) == 0 {
		t.Fatal("neither a mesh nor an error")
	}
	seen := map[string]bool{}
	for _, m := range list {
		if seen[m.Name] {
			t.Fatalf("two meshes are named %q", m.Name)
		}
		seen[m.Name] = true
		if m.Len() == 0 || !(m.Volume >= 0) || !finite(m.Volume) || !(m.Area >= 0) || !finite(m.Area) {
			t.Fatalf("%s has %d triangles, volume %v, area %v", m.Name, m.Len(), m.Volume, m.Area)
		}
		if h, err := m.Health(HealthOptions{MinWall: 1}); err != nil || h.Triangles != m.Len() || h.Shells > m.Len() || !finite(h.ThinnestWall) {
			t.Fatalf("health %+v, %v", h, err)
		}
		for _, tri := range triangles(t, m) {
			for _, p := range tri {
				for k, v := range p {
					if v := float64(v); !(v >= m.Min[k] && v <= m.Max[k]) {
						t.Fatalf("%s: corner %v lies outside the box %v %v", m.Name, p, m.Min, m.Max)
					}
				}
			}
		}
	}
}
