package graphviz

import (
	"bytes"
	"context"
	"encoding/xml"
	"errors"
	"fmt"
	"image/color"
	"image/png"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"dryfit/kits/demo"
	"dryfit/plan"
	"dryfit/plan/plantest"
)

func drawTree(t testing.TB, rep *plan.Project, format string) []byte {
	t.Helper()
	data, err := Tree(context.Background(), rep, format)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// The sheet of the demonstration kit has every step with its number and every
// piece, in text that can be read on A3.
func TestDemonstrationSheet(t *testing.T) {
	rep := plantest.Check(t, string(demo.Kit))
	sheet := drawTree(t, rep, "svg")
	texts, smallest := texts(t, sheet)
	for v, s := range rep.Constraints.Steps {
		if want := fmt.Sprint(rep.Sequence.Place[v]); !texts[want] {
			t.Errorf("step number %s is missing", want)
		}
		if s.Kind == plan.Fit && !hasText(texts, clip(rep.Constraints.Labels(s.Join.Pieces))) {
			t.Errorf("%s is missing", rep.Constraints.Labels(s.Join.Pieces))
		}
	}
	// 6 points, 2.1 mm, is the size of the small print in newspapers (common practice).
	if smallest < 6 {
		t.Errorf("the smallest text is %.1f points on A3", smallest)
	}
}

func hasText(texts map[string]bool, part string) bool {
	for s := range texts {
		if strings.Contains(s, part) {
			return true
		}
	}
	return false
}

// texts parses an SVG strictly and returns its texts and its smallest font.
func texts(t *testing.T, data []byte) (all map[string]bool, smallest float64) {
	t.Helper()
	all, smallest = map[string]bool{}, 1e9
	dec := xml.NewDecoder(bytes.NewReader(data))
	in := false
	for {
		tok, err := dec.Token()
		if errors.Is(err, io.EOF) {
			return all, smallest
		}
		if err != nil {
			t.Fatalf("not XML: %v", err)
		}
		switch x := tok.(type) {
		case xml.StartElement:
			in = x.Name.Local == "text"
			for _, a := range x.Attr {
				if a.Name.Local == "font-size" {
					if v, err := strconv.ParseFloat(a.Value, 64); err == nil {
						smallest = min(smallest, v)
					}
				}
			}
		case xml.CharData:
			if in {
				all[string(x)] = true
			}
		case xml.EndElement:
			in = false
		}
	}
}

// Pieces that cannot be fitted are marked by words, a frame and "!!"; colour plays
// no part in it.
func TestTrappedIsMarkedWithoutColour(t *testing.T) {
	rep := plantest.Check(t, `
kit: Box
parts: {box: {}, lid: {}, seat: {}, pot: {size: [9, 9, 9]}, stray: {}}
joins:
  - {fit: lid, to: box}
  - {fit: seat, to: box, after: lid}
  - {fit: pot, to: box}
spaces:
  room: {closed-by: [box, lid], holds: seat}
  cupboard: {closed-by: [{piece: lid, opening: [5, 5]}], holds: pot}
`)
	texts, _ := texts(t, drawTree(t, rep, "svg"))
	for _, want := range []string{"TRAPPED: seat", "UNREACHABLE: pot", "!!", "NO PROVEN ORDER: see the framed rows, and dryfit check."} {
		if !texts[want] {
			t.Errorf("%q is missing among %v", want, texts)
		}
	}
	dot := string(drawTree(t, rep, "dot"))
	if !strings.Contains(dot, `<TD BORDER="2" ALIGN="LEFT"><B>`) && !strings.Contains(dot, `BORDER="2"><B>TRAPPED`) {
		t.Errorf("no frame around the trapped row in\n%s", dot)
	}
	for _, c := range strings.Split(dot, `"#`)[1:] {
		if r := c[:6]; r[:2] != r[2:4] || r[2:4] != r[4:6] {
			t.Errorf("#%s is a colour; the sheet is black, white and grey", r)
		}
	}
}

// Two runs give the same bytes, in every format.
func TestDeterministic(t *testing.T) {
	rep := plantest.Check(t, string(demo.Kit))
	for _, f := range Formats {
		if !bytes.Equal(drawTree(t, rep, f), drawTree(t, rep, f)) {
			t.Errorf("%s differs from run to run", f)
		}
	}
}

// PNG and PDF are painted from the same layout as the SVG: the PNG has ink where
// the closings are black and white elsewhere, and the PDF has the same texts.
func TestPictureAndPrint(t *testing.T) {
	rep := plantest.Check(t, string(demo.Kit))
	img, err := png.Decode(bytes.NewReader(drawTree(t, rep, "png")))
	if err != nil {
		t.Fatal(err)
	}
	b := img.Bounds()
	if b.Dx() != 3307 || b.Dy() != 2339 {
		t.Errorf("the picture is %v, want A3 at 200 pixels an inch", b)
	}
	dark, all := 0, 0
	for y := b.Min.Y; y < b.Max.Y; y += 3 {
		for x := b.Min.X; x < b.Max.X; x += 3 {
			all++
			if color.GrayModel.Convert(img.At(x, y)).(color.Gray).Y < 128 {
				dark++
			}
		}
	}
	// Filled curves once turned whole regions black.
	if share := float64(dark) / float64(all); share < 0.01 || share > 0.12 {
		t.Errorf("%.1f %% of the picture is dark", 100*share)
	}

	file := filepath.Join(t.TempDir(), "tree.pdf")
	if err := os.WriteFile(file, drawTree(t, rep, "pdf"), 0o644); err != nil {
		t.Fatal(err)
	}
	run(t, "qpdf", "--check", file)
	text := run(t, "pdftotext", "-layout", file, "-")
	for _, want := range []string{"Skerrivane R.2", "CLOSE H01P and H01S", "MAIN BUILD", "Cautions on small magnets"} {
		if text != "" && !strings.Contains(text, want) {
			t.Errorf("%q cannot be extracted from the PDF", want)
		}
	}
}

// run runs a checker where it is installed. CI installs it, so there its absence
// is a failure.
func run(t *testing.T, name string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(name); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatalf("%s is not installed", name)
		}
		t.Logf("NOT CHECKED: %s is not installed", name)
		return ""
	}
	out, err := exec.Command(name, args...).CombinedOutput()
	if err != nil {
		t.Errorf("%s: %v\n%s", name, err, out)
	}
	return string(out)
}

// Texts of the kit that look like markup, DOT or another script are shown as they
// are and break nothing.
func TestHostileTexts(t *testing.T) {
	rep := plantest.Check(t, `
kit: 'A "kit" \N <b> & > ]]> -->'
parts:
  box: {name: '</TD></TABLE>'}
  lid: {name: '"; graph [label=x]; "'}
  emoji: {name: 'Wing 翼 عرب 🛩'}
joins:
  - {fit: lid, to: box}
  - {fit: emoji, to: box}
`)
	texts, _ := texts(t, drawTree(t, rep, "svg"))
	for _, want := range []string{`"; graph [label=x]; "`, "Wing 翼 عرب 🛩", "MAIN BUILD on </TD></TABLE>"} {
		if !texts[want] {
			t.Errorf("%q is missing among %v", want, texts)
		}
	}
	for _, f := range Formats {
		drawTree(t, rep, f)
	}
}

func TestEmptyKit(t *testing.T) {
	rep := plantest.Check(t, "kit: Nothing\nparts: {}\n")
	for _, f := range Formats {
		drawTree(t, rep, f)
	}
}

func BenchmarkTree(b *testing.B) {
	rep := plantest.Check(b, string(demo.Kit))
	for _, f := range Formats {
		b.Run(f, func(b *testing.B) {
			for b.Loop() {
				drawTree(b, rep, f)
			}
		})
	}
}
