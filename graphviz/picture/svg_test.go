package picture

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
)

// body is what an SVG holds behind its title.
func body(t *testing.T, marks ...Mark) string {
	t.Helper()
	p := Picture{Width: 60, Height: 40.5, Marks: marks}
	s := string(p.SVG("a plate"))
	wellFormed(t, s)
	_, s, _ = strings.Cut(s, "</title>\n")
	return strings.TrimSuffix(s, "</svg>")
}

func wellFormed(t *testing.T, s string) {
	t.Helper()
	dec := xml.NewDecoder(strings.NewReader(s))
	for {
		if _, err := dec.Token(); err == io.EOF {
			return
		} else if err != nil {
			t.Fatalf("%v in\n%s", err, s)
		}
	}
}

func TestSVGFrame(t *testing.T) {
	p := Picture{Width: 60, Height: 40.456, PNG: []byte("png")}
	want := `<svg role="img" width="60mm" height="40.46mm" viewBox="0 0 60 40.46" fill="none" fill-rule="evenodd" stroke-linecap="round" stroke-linejoin="round" font-family="Liberation Sans, Arial, Helvetica, sans-serif">
<title>nuts &amp; bolts</title>
<image width="60" height="40.46" preserveAspectRatio="none" href="data:image/png;base64,cG5n"/>
</svg>`
	if got := string(p.SVG("nuts & bolts")); got != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
}

func TestSVGMarks(t *testing.T) {
	line := func(p ...Point) Mark { return Mark{Paths: [][]Point{p}, Stroke: "#112233", Width: 0.25} }
	area := func(p ...Point) Mark { return Mark{Paths: [][]Point{p}, Closed: true, Fill: "#ccddee"} }
	dashed := line(Point{1, 1}, Point{9, 1})
	dashed.Dash = []float64{2, 1}
	bad := line(Point{1, 1}, Point{9, 1})
	bad.Dash = []float64{2, math.NaN()}
	curve := line(Point{0, 0}, Point{1, 0}, Point{2, 1}, Point{2, 2}, Point{2, 3}, Point{1, 4}, Point{0, 4})
	curve.Curves = true
	const pen = ` stroke="#112233" stroke-width=".25"`
	for _, c := range []struct {
		what  string
		marks []Mark
		want  string
	}{
		{"relative, without needless zeros, dots and gaps",
			[]Mark{line(Point{0.5, 10}, Point{1, 9.5}, Point{1.25, 10.125}, Point{-3, 12})},
			`<path` + pen + ` d="m.5 10 .5-.5.25.63-4.25 1.87"/>` + "\n"},
		{"level and upright",
			[]Mark{line(Point{1, 2}, Point{5, 2}, Point{9, 2}, Point{9, 4})},
			`<path` + pen + ` d="m1 2h4 4v2"/>` + "\n"},
		{"lines of one look are one path",
			[]Mark{line(Point{1, 1}, Point{2, 2}), line(Point{4, 1}, Point{5, 2})},
			`<path` + pen + ` d="m1 1 1 1m2-1 1 1"/>` + "\n"},
		{"areas of one look stay apart, or they would cut holes in each other",
			[]Mark{area(Point{0, 0}, Point{4, 0}, Point{0, 4}), area(Point{1, 1}, Point{5, 1}, Point{1, 5}, Point{1, 1})},
			`<g fill="#ccddee">` + "\n" + `<path d="m0 0h4l-4 4z"/>` + "\n" + `<path d="m1 1h4l-4 4z"/>` + "\n</g>\n"},
		{"behind a closed path the pen is at its start",
			[]Mark{{Paths: [][]Point{{{1, 1}, {8, 1}, {8, 8}}, {{2, 2}, {3, 2}, {3, 3}}}, Closed: true, Fill: "#ccddee"}},
			`<path fill="#ccddee" d="m1 1h7v7zm1 1h1v1z"/>` + "\n"},
		{"another look is another path",
			[]Mark{line(Point{1, 1}, Point{2, 2}), dashed},
			`<path` + pen + ` d="m1 1 1 1"/>` + "\n" + `<path` + pen + ` stroke-linecap="butt" stroke-dasharray="2 1" d="m1 1h8"/>` + "\n"},
		{"a dash that is no length is none", []Mark{bad}, `<path` + pen + ` d="m1 1h8"/>` + "\n"},
		{"curves", []Mark{curve}, `<path` + pen + ` d="m0 0c1 0 2 1 2 2 0 1-1 2-2 2"/>` + "\n"},
		{"a dot", []Mark{line(Point{3, 3}, Point{3, 3})}, `<path` + pen + ` d="m3 3h0"/>` + "\n"},
		{"nothing to see", []Mark{{Paths: [][]Point{{{1, 1}, {2, 2}}}}, line(Point{1, 1}), line(), {Text: "nowhere", Size: 3}}, ""},
		{"letters", []Mark{{Text: `<b>&"A1"`, Size: 3.5, Bold: true, Anchor: "middle", Fill: "#ffffff", Paths: [][]Point{{{3, 4}}}}},
			`<text x="3" y="4" font-size="3.5" text-anchor="middle" font-weight="bold" fill="#ffffff">&lt;b&gt;&amp;&#34;A1&#34;</text>` + "\n"},
		{"letters are black", []Mark{{Text: "7", Size: 3, Paths: [][]Point{{{3, 4}}}}},
			`<text x="3" y="4" font-size="3" fill="#000000">7</text>` + "\n"},
	} {
		if got := body(t, c.marks...); got != c.want {
			t.Errorf("%s: got\n%s\nwant\n%s", c.what, got, c.want)
		}
	}
}

// What is not a number is left out, and what is beside it is still painted.
func TestSVGWithoutNumbers(t *testing.T) {
	for _, v := range []float64{math.NaN(), math.Inf(1), math.Inf(-1), math.MaxFloat64, 1e6} {
		p := Picture{Width: v, Height: -v, Marks: []Mark{
			{Paths: [][]Point{{{v, 0}, {1, 1}}, {{2, 2}, {5, v}}, {{1, 2}, {3, 4}}}, Stroke: "#000000", Width: 1, Dash: []float64{v}},
			{Paths: [][]Point{{{1, 1}, {2, 2}, {2, 1}}}, Closed: true, Fill: "#000000", Stroke: "#000000", Width: v},
			{Paths: [][]Point{{{v, v}}}, Text: "there", Size: 3},
			{Paths: [][]Point{{{1, 1}}}, Text: "huge", Size: v},
		}}
		s := string(p.SVG("x"))
		wellFormed(t, s)
		if strings.Contains(s, "NaN") || strings.Contains(s, "Inf") || strings.Contains(s, "text") || strings.Contains(s, "e+") {
			t.Errorf("%v:\n%s", v, s)
		}
		for _, want := range []string{`viewBox="0 0 0 0"`, `stroke-width="1" d="m1 2 2 2"`, `<path fill="#000000" d="m1 1 1 1v-1z"/>`} {
			if !strings.Contains(s, want) {
				t.Errorf("%v: no %s in\n%s", v, want, s)
			}
		}
	}
}

// Attributes cannot be left by what stands in them.
func TestSVGHostile(t *testing.T) {
	const evil = "\"><script>alert(1)</script>\x00\x1b[31m\u202eevil\u2066\ufffe\xff"
	got := body(t,
		Mark{Paths: [][]Point{{{1, 1}, {2, 2}}}, Stroke: evil, Fill: evil, Width: 1},
		Mark{Paths: [][]Point{{{1, 1}}}, Text: evil, Anchor: evil, Fill: evil, Size: 2})
	if strings.Contains(got, "<script") || strings.ContainsAny(got, "\x00\x1b\u202e\u2066\ufffe") {
		t.Error(got)
	}
}

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{
		"Bow, 2 × Ø5 – größer":  "Bow, 2 × Ø5 – größer",
		"שלום":                  "שלום",
		"a\u202eb\u2067c\u2069": "abc",
		"a\r\nb\u2028c\td\fe":   "a \nb\nc\td e",
		"a\x00b\x1bc\u0080d":    "a\uFFFDb\uFFFDc\uFFFDd",
		"\uffff\U0001fffe\xffz": "\uFFFD\uFFFD\uFFFDz",
	} {
		if got := Plain(in); got != want {
			t.Errorf("%q: got %q, want %q", in, got, want)
		}
	}
}

// Read back by the grammar of path data (SVG 1.1, section 8.3), the points of random
// paths are where they were, to half a hundredth of a mm, however long the path.
func TestSVGPathsReadBack(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var path []Point
		for range 2 + rnd.IntN(300) {
			p := Point{rnd.NormFloat64() * math.Pow(10, float64(rnd.IntN(5)-2)), rnd.NormFloat64() * 50}
			if len(path) > 0 && rnd.IntN(4) == 0 {
				p[rnd.IntN(2)] = path[len(path)-1][0]
			}
			path = append(path, p)
		}
		var tr trace
		tr.add(path, false, false)
		got := readPath(t, string(tr.b))
		i := 0
		for _, p := range path {
			near := func(q Point) bool {
				return math.Abs(p[0]-q[0]) <= 0.0051 && math.Abs(p[1]-q[1]) <= 0.0051
			}
			if i < len(got) && near(got[i]) {
				i++ // else the point fell on the one before
			} else if i == 0 || !near(got[i-1]) {
				t.Fatalf("point %v is not at its place in\n%s", p, tr.b)
			}
		}
		if i != len(got) {
			t.Fatalf("%d points more than there were", len(got)-i)
		}
	}
}

// readPath reads relative m, l, h, v. It looks for the longest number, as the grammar has it.
func readPath(t *testing.T, s string) []Point {
	t.Helper()
	var out []Point
	var at Point
	number := func() float64 {
		s = strings.TrimPrefix(s, " ")
		n := 0
		for n < len(s) && (s[n] >= '0' && s[n] <= '9' || s[n] == '-' && n == 0 || s[n] == '.' && !strings.Contains(s[:n], ".")) {
			n++
		}
		v, err := strconv.ParseFloat(s[:n], 64)
		if err != nil {
			t.Fatalf("%v in %q", err, s)
		}
		s = s[n:]
		return v
	}
	c := byte(0)
	for len(s) > 0 {
		if strings.IndexByte("mlhv", s[0]) >= 0 {
			c, s = s[0], s[1:]
		}
		switch c {
		case 'h':
			at[0] += number()
		case 'v':
			at[1] += number()
		default:
			at[0] += number()
			at[1] += number()
		}
		out = append(out, at)
	}
	return out
}

func TestSVGIsTheSameTwice(t *testing.T) {
	p := Picture{Width: 10, Height: 10}
	for i := range 50 {
		p.Marks = append(p.Marks, Mark{Paths: [][]Point{{{float64(i), 0}, {1, 1}}}, Stroke: fmt.Sprintf("#0000%02d", i%7), Width: 0.1})
	}
	if !bytes.Equal(p.SVG("x"), p.SVG("x")) {
		t.Error("two different files")
	}
}
