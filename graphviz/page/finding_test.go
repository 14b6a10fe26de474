package page

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
)

// picture is what the screen shows.
func (b *tab) picture() image.Image {
	b.t.Helper()
	img, err := png.Decode(bytes.NewReader(b.screenshot()))
	b.must(err)
	return img
}

// count counts the pixels of the view that are of a kind.
func (b *tab) count(is func(r, g, b int) bool) int {
	b.t.Helper()
	b.run("document.getElementById('marks').style.visibility = 'hidden'")
	b.settle()
	img := b.picture()
	b.run("document.getElementById('marks').style.visibility = ''")
	box := js[[]float64](b, "(() => { const c = document.getElementById('canvas').getBoundingClientRect(); return [c.left, c.top, c.right, c.bottom] })()")
	n := 0
	for y := int(box[1]); y < int(box[3]); y++ {
		for x := int(box[0]); x < int(box[2]); x++ {
			c := color.NRGBAModel.Convert(img.At(x, y)).(color.NRGBA)
			if is(int(c.R), int(c.G), int(c.B)) {
				n++
			}
		}
	}
	return n
}

// What patterns look like: dark dots and stripes, and the deep red stripes of what is
// hidden. They are shapes, so that no eye needs to tell their colours.
func black(r, g, b int) bool   { return max(r, g, b) < 24 }
func deepRed(r, g, b int) bool { return r > 110 && r < 190 && g < 40 && b < 40 }

// TestTrapped: what is trapped is striped, seen through what hides it, with what is in
// its way named, in the view and in words.
func TestTrapped(t *testing.T) {
	b := newTab(t, 1000, 700)
	b.open(serve(t, trapped(t)))
	if got := b.text("state"); got != "✕ 1 fault" {
		t.Error(got)
	}
	if n := b.count(deepRed); n < 700 {
		t.Errorf("the gem shows through the lid with %d pixels", n)
	}
	if n := b.count(black); n < 250 {
		t.Errorf("the lid is dotted with %d pixels", n)
	}
	want(b, "✕ trapped: Red gem", "document.querySelector('.mark.stuck').textContent")
	want(b, "▒ in the way: Lid of the box", "document.querySelector('.mark.blocker').textContent")
	want(b, 2, "document.querySelectorAll('#marks path').length") // the arrow and its halo
	b.click("tab-findings")
	text := b.text("findings")
	for _, s := range []string{"fault: trapped", "gem cannot be fitted in any order", "fitting gem is asked to come after lid", "kit.yaml:10:", "any one of these fixes it", `drop "lid" from after`} {
		if !strings.Contains(text, s) {
			t.Errorf("findings do not say %q: %s", s, text)
		}
	}
	if strings.Contains(text, "/") {
		t.Errorf("findings tell where files are: %s", text)
	}
	b.do(chromedp.Click(chromedp.Search("//*[@id='findings']//button[text()='Red gem']")))
	want(b, "gem", pickedID)
	if got := b.text("picked"); !strings.HasSuffix(got, "; trapped") {
		t.Error(got)
	}
	// alone, and with nothing over it, its own stripes are seen
	b.click("isolate")
	if n := b.count(black); n < 250 {
		t.Errorf("the gem is striped with %d pixels", n)
	}
	if n := b.count(deepRed); n > 200 {
		t.Errorf("nothing hides it, and %d pixels say so", n)
	}
}

// TestClash: where two pieces are in one place there is a mark.
func TestClash(t *testing.T) {
	kitstest.Repeats(t, "TestTrapped")
	f := chest(t, "")
	writeMesh(t, filepath.Join(f.meshes(), "handle.stl"), meshtest.Transform(meshtest.Cubes(meshtest.Cells("113"), 10), meshtest.Identity, [3]float64{0, 0, -6}, 1))
	b := newTab(t, 1000, 700)
	b.open(serve(t, f))
	want(b, "✱ clash", "document.querySelector('.mark.clash')?.textContent")
	place := js[[]float64](b, "dryfit.model.clashes[0].at")
	if len(place) != 3 || place[0] != 15 || place[1] != 15 || place[2] != 27 {
		t.Errorf("the clash is at %v; the handle stands in the lid from 24 to 30", place)
	}
	if n := b.count(black); n < 300 {
		t.Errorf("what clashes is striped with %d pixels", n)
	}
	if got := b.text("findings"); !strings.Contains(got, "fault: clash") {
		t.Error(got)
	}
}

// TestScheme: a kit without meshes is shown as boxes, and said to be so.
func TestScheme(t *testing.T) {
	b := newTab(t, 1000, 700)
	b.open(serve(t, newKit(t, schemeText, nil)))
	if got := b.text("note"); !strings.Contains(got, "scheme") || !strings.Contains(got, "no meshes") {
		t.Error(got)
	}
	want(b, "base post.1 post.2", shownIDs)
	if n := b.count(func(r, g, b int) bool { return r < 240 }); n < 5000 {
		t.Errorf("the boxes have %d pixels", n)
	}
	x, y := b.at("post.2")
	b.do(chromedp.MouseClickXY(x, y))
	want(b, "post.2", pickedID)
}
