package mesh

import (
	"encoding/binary"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// bigSTL writes a binary STL of n triangles: a rough sheet, not closed, as the
// speed of reading does not depend on the form.
func bigSTL(tb testing.TB, n int) string {
	data := make([]byte, stlHead+stlRecord*n)
	binary.LittleEndian.PutUint32(data[80:], uint32(n))
	for i := range n {
		rec := data[stlHead+stlRecord*i+12:]
		for c := range 9 {
			v := float32(math.Mod(float64(i*7+c*13)*0.37, 200))
			binary.LittleEndian.PutUint32(rec[4*c:], math.Float32bits(v))
		}
	}
	path := filepath.Join(tb.TempDir(), "big.stl")
	if err := os.WriteFile(path, data, 0o600); err != nil {
		tb.Fatal(err)
	}
	return path
}

// BenchmarkOpenBinarySTL measures opening: one pass with box, volume, area, centre
// and hash.
func BenchmarkOpenBinarySTL(b *testing.B) {
	const n = 2_000_000
	path := bigSTL(b, n)
	for b.Loop() {
		if _, err := OpenFile(path, Options{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mtriangles/s")
}

// BenchmarkReadBinarySTL measures reading it once more.
func BenchmarkReadBinarySTL(b *testing.B) {
	const n = 2_000_000
	list, err := OpenFile(bigSTL(b, n), Options{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if err := list[0].Blocks(func(int, []Triangle) error { return nil }); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(n)*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mtriangles/s")
}

// BenchmarkOpen3MF measures unpacking and reading a model of about 26 MB of XML.
func BenchmarkOpen3MF(b *testing.B) {
	data := zipOf(bigModel(200_000))
	b.SetBytes(int64(len(bigModel(200_000))))
	for b.Loop() {
		if _, err := open(inputBytes("big.3mf", data), Options{}); err != nil {
			b.Fatal(err)
		}
	}
}

// bigModel has n corners on a wavy sheet and twice as many triangles.
func bigModel(n int) string {
	var v, f strings.Builder
	for i := range n {
		x, y := float64(i%1000), float64(i/1000)
		fmt.Fprintf(&v, "<vertex x=\"%.6g\" y=\"%.6g\" z=\"%.6g\"/>\n", x*0.37, y*0.41, 10*math.Sin(x*0.1)*math.Cos(y*0.07))
		a, c := i, (i+1000)%n
		fmt.Fprintf(&f, "<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n<triangle v1=\"%d\" v2=\"%d\" v3=\"%d\"/>\n", a, (a+1)%n, c, c, (a+1)%n, (c+1)%n)
	}
	return modelOf(`<object id="1"><mesh><vertices>`+v.String()+`</vertices><triangles>`+f.String()+`</triangles></mesh></object>`, oneItem)
}

// BenchmarkHealth measures a closer look at a closed surface of a million triangles.
func BenchmarkHealth(b *testing.B) {
	m, err := FromTriangles("ring", torus(1000, 500, 100, 30))
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := m.Health(HealthOptions{}); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(m.Len())*float64(b.N)/b.Elapsed().Seconds()/1e6, "Mtriangles/s")
}
