package document

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"regexp"
	"strings"
	"testing"

	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/picture"
)

// painting is what is written for a picture at the top left corner of a page, as PDF
// operators in points.
func painting(t *testing.T, p *picture.Picture, width, height float64) string {
	t.Helper()
	pdf := newPDF()
	pdf.SetCompression(false)
	l, err := newLetters(pdf)
	if err != nil {
		t.Fatal(err)
	}
	in := (&setter{l, &Document{}}).picture(p, width, height)
	pdf.AddPage()
	c := &canvas{pdf: pdf, images: map[string]bool{}}
	in.paint(c, 0, 0)
	if c.err != nil {
		t.Fatal(c.err)
	}
	var b bytes.Buffer
	if err := pdf.Output(&b); err != nil {
		t.Fatal(err)
	}
	_, text, _ := strings.Cut(b.String(), "W n\n") // behind the cut to the frame of the picture
	text, _, _ = strings.Cut(text, "endstream")
	return text
}

func square(from, to float64) []picture.Point {
	return []picture.Point{{from, from}, {to, from}, {to, to}, {from, to}}
}

// Areas within areas are holes only with the even-odd operators, which end in a star
// (ISO 32000-1:2008, table 60; from memory).
func TestMarks(t *testing.T) {
	areas := [][]picture.Point{square(0, 10), square(2, 8)}
	for name, c := range map[string]struct {
		mark picture.Mark
		want string
	}{
		"filled":         {picture.Mark{Paths: areas, Closed: true, Fill: "#808080"}, `0\.502 g\s[^S]*h\s[^S]*h\sf\*`},
		"filled, edged":  {picture.Mark{Paths: areas, Closed: true, Fill: "#ff0000", Stroke: "#000000"}, `1\.000 0\.000 0\.000 rg\s[\s\S]*h\sB\*`},
		"line":           {picture.Mark{Paths: [][]picture.Point{{{0, 0}, {10, 0}}}, Stroke: "#000000", Width: 0.5}, `1\.42 w\s0\.00 841\.89 m\s28\.35 841\.89 l\sS`},
		"dashed":         {picture.Mark{Paths: [][]picture.Point{{{0, 0}, {10, 0}}}, Stroke: "#000000", Dash: []float64{2, 1}}, `\[5\.67 2\.83\] 0\.00 d\s`},
		"curve":          {picture.Mark{Paths: [][]picture.Point{{{0, 0}, {1, 0}, {2, 1}, {2, 2}, {9, 9}}}, Curves: true, Stroke: "#000000"}, `0\.00 841\.89 m\s[-0-9. ]+ c\sS`},
		"thin":           {picture.Mark{Paths: areas, Stroke: "#000000", Width: 0}, `0\.23 w\s`},
		"without a look": {picture.Mark{Paths: areas}, `^Q`},
		"no number":      {picture.Mark{Paths: [][]picture.Point{{{0, 0}, {math.NaN(), 1}}, {{0, 0}, {10, 0}}, {{1, 1}, {math.Inf(1), 0}}}, Stroke: "#000000"}, `w\s0\.00 841\.89 m\s28\.35 841\.89 l\sS\sQ`},
		"bad dashes":     {picture.Mark{Paths: areas, Stroke: "#000000", Dash: []float64{0, 0}}, `\[\] 0\.00 d\s`},
		"bad colour":     {picture.Mark{Paths: areas, Stroke: "red) Tj"}, `\d l\sS\sQ`},
		"points alone":   {picture.Mark{Paths: [][]picture.Point{{{1, 1}}, {}}, Stroke: "#000000"}, `w\sQ`},
	} {
		got := painting(t, &picture.Picture{Width: 20, Height: 20, Marks: []picture.Mark{c.mark}}, 180, 150)
		if !regexp.MustCompile(c.want).MatchString(got) {
			t.Errorf("%s: %q, want %s", name, got, c.want)
		}
	}
}

// What follows a picture has no colour left over from what stood before it.
func TestColourAfterPicture(t *testing.T) {
	p := &picture.Picture{Width: 20, Height: 20, Marks: []picture.Mark{{Paths: [][]picture.Point{square(0, 10)}, Closed: true, Fill: "#808080"}}}
	if got := painting(t, p, 180, 150); !regexp.MustCompile(`Q\s+0\.000 g\s*$`).MatchString(got) {
		t.Errorf("the picture ends with %q, want black after its clip", got[max(0, len(got)-60):])
	}
}

// Texts stand at their point by their anchor, in mm turned into points.
func TestLabels(t *testing.T) {
	l := sharedLetters()
	wide := l.width(style{points: 4 / mmPerPoint}, "A12")
	for anchor, x := range map[string]float64{"start": 50, "": 50, "middle": 50 - wide/2, "end": 50 - wide} {
		p := &picture.Picture{Width: 100, Height: 50, Marks: []picture.Mark{{Paths: [][]picture.Point{{{50, 20}}}, Text: "A12", Size: 4, Anchor: anchor}}}
		got := painting(t, p, 180, 150)
		if want := fmt.Sprintf("BT %.2f %.2f Td", x/mmPerPoint, (pageHeight-20)/mmPerPoint); !strings.Contains(got, want) {
			t.Errorf("%q: %q, want %q", anchor, got, want)
		}
	}
}

// A picture is made smaller only where it must be, in proportion; its texts are not
// made too small to be read.
func TestPictureSize(t *testing.T) {
	s := &setter{sharedLetters(), &Document{}}
	for _, c := range []struct{ w, h, wantW, wantH float64 }{
		{100, 60, 100, 60}, {180, 150, 180, 150}, {360, 60, 180, 30}, {100, 300, 50, 150}, {0, 10, 0, 0}, {10, -1, 0, 0}, {math.NaN(), 10, 0, 0}, {10, math.Inf(1), 0, 0},
	} {
		p := s.picture(&picture.Picture{Width: c.w, Height: c.h}, textWidth, maxPicture)
		if math.Abs(p.width-c.wantW) > small || math.Abs(p.height-c.wantH) > small {
			t.Errorf("%v x %v becomes %v x %v, want %v x %v", c.w, c.h, p.width, p.height, c.wantW, c.wantH)
		}
	}
	for size, want := range map[float64]string{10: "14.17 Tf", 3: "7.50 Tf", 2: "5.67 Tf"} {
		p := &picture.Picture{Width: 360, Height: 60, Marks: []picture.Mark{{Paths: [][]picture.Point{{{50, 20}}}, Text: "A12", Size: size}}}
		if got := painting(t, p, 180, 150); !strings.Contains(got, want) {
			t.Errorf("letters of %v mm at half size: %q, want %q", size, got, want)
		}
	}
}

// What is empty above and below a drawing takes no room; what is drawn stays.
func TestTrimmed(t *testing.T) {
	for name, c := range map[string]struct {
		p           *picture.Picture
		top, bottom float64
	}{
		"line":     {&picture.Picture{Width: 100, Height: 90, Marks: []picture.Mark{{Paths: [][]picture.Point{{{0, 30}, {9, 50}}}, Width: 1}}}, 29, 51},
		"text":     {&picture.Picture{Width: 100, Height: 90, Marks: []picture.Mark{{Paths: [][]picture.Point{{{0, 30}}}, Text: "A", Size: 10}}}, 19.5, 33.5},
		"outside":  {&picture.Picture{Width: 100, Height: 90, Marks: []picture.Mark{{Paths: [][]picture.Point{{{0, -5}, {9, 500}}}}}}, 0, 90},
		"no lines": {&picture.Picture{Width: 100, Height: 90, Marks: []picture.Mark{{Paths: [][]picture.Point{{{0, math.NaN()}, {9, 50}}}}}}, 0, 90},
		"empty":    {&picture.Picture{Width: 100, Height: 90}, 0, 90},
		"PNG":      {&picture.Picture{Width: 100, Height: 90, PNG: painted(2, 2, 0), Marks: []picture.Mark{{Paths: [][]picture.Point{{{0, 30}, {9, 50}}}}}}, 0, 90},
	} {
		if top, bottom := inked(c.p); math.Abs(top-c.top) > small || math.Abs(bottom-c.bottom) > small {
			t.Errorf("%s: from %v to %v, want %v to %v", name, top, bottom, c.top, c.bottom)
		}
	}
	s := &setter{sharedLetters(), &Document{}}
	p := s.trimmed(&picture.Picture{Width: 360, Height: 400, Marks: []picture.Mark{{Paths: [][]picture.Point{{{0, 100.5}, {9, 199.5}}}}}}, textWidth, maxPicture)
	if math.Abs(p.width-180) > small || math.Abs(p.height-50) > small {
		t.Errorf("%v x %v, want 180 x 50: half of what is drawn", p.width, p.height)
	}
}

// All pictures of what is new in a step are made smaller alike.
func TestItemsAtOneScale(t *testing.T) {
	items := []Item{{Picture: &picture.Picture{Width: 80, Height: 20}}, {Picture: &picture.Picture{Width: 10, Height: 10}}, {}}
	if got := commonScale(items); got != 0.5 {
		t.Errorf("the scale is %v, want 0.5: 80 mm in room for 40", got)
	}
	if got := commonScale(items[1:]); got != 1 {
		t.Errorf("the scale is %v, want 1", got)
	}
}

// What the library would not take, or take wrongly, is painted on white.
func TestPNGKinds(t *testing.T) {
	rect := image.Rect(0, 0, 4, 4)
	clear := image.NewNRGBA(rect)
	clear.Set(1, 1, color.NRGBA{255, 0, 0, 128})
	deep := image.NewGray16(rect)
	palette := image.NewPaletted(rect, color.Palette{color.Black, color.White})
	some := image.NewPaletted(rect, color.Palette{color.Transparent, color.White})
	for name, c := range map[string]struct {
		img   image.Image
		plain bool
	}{
		"grey": {image.NewGray(rect), true}, "palette": {palette, true},
		"deep": {deep, false}, "half clear": {clear, false}, "clear palette": {some, false},
	} {
		var b bytes.Buffer
		if err := png.Encode(&b, c.img); err != nil {
			t.Fatal(err)
		}
		got, err := plainPNG(b.Bytes())
		if err != nil {
			t.Fatal(err)
		}
		if same := bytes.Equal(got, b.Bytes()); same != c.plain {
			t.Errorf("%s: taken as it is: %v, want %v", name, same, c.plain)
		}
		data := setPDF(t, &Document{Chapters: []Chapter{{Blocks: []Block{Figure{Picture: &picture.Picture{Width: 9, Height: 9, PNG: b.Bytes()}}}}}})
		if bytes.Contains(data, []byte("/SMask")) || bytes.Contains(data, []byte("/Mask")) || !bytes.Contains(data, []byte("/Width 4")) {
			t.Errorf("%s: the image is not written plain", name)
		}
		if out, ok := documenttest.RunOn(t, data, "qpdf", "--check", "FILE"); ok && strings.Contains(strings.ToUpper(out), "WARNING") {
			t.Errorf("%s: %s", name, out)
		}
	}
}
