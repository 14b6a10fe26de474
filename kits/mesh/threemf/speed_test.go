package threemf_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"dryfit/kits/mesh/files"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/mesh/scan"
)

// BenchmarkOpen3MF measures unpacking and reading a model of about 26 MB of XML.
func BenchmarkOpen3MF(b *testing.B) {
	data := meshtest.Package(bigModel(200_000))
	b.SetBytes(int64(len(bigModel(200_000))))
	for b.Loop() {
		if _, err := files.Read(scan.InMemory("big.3mf", data), files.Options{}); err != nil {
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
	return meshtest.Model(`<object id="1"><mesh><vertices>`+v.String()+`</vertices><triangles>`+f.String()+`</triangles></mesh></object>`, meshtest.OneItem)
}
