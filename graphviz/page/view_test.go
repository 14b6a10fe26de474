package page

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"dryfit/kits/kitstest"
)

// TestSteps: by button, slider and keyboard, and what each step shows.
func TestSteps(t *testing.T) {
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	b.sound()
	want(b, 0, "dryfit.scene.step")
	if got := b.text("now"); got != "The whole model, 4 pieces" {
		t.Error(got)
	}
	want(b, true, "document.getElementById('before').disabled")
	for n, ids := range []string{"box gem", "box gem lid", "box gem lid handle"} {
		b.click("next")
		want(b, n+1, "dryfit.scene.step")
		want(b, ids, shownIDs)
		if got := b.text("now"); !strings.HasPrefix(got, fmt.Sprintf("Step %d of 3: Fit ", n+1)) {
			t.Error(got)
		}
		want(b, fmt.Sprint(n+1), "document.querySelector('#steps [aria-current]').dataset.step")
	}
	want(b, true, "document.getElementById('next').disabled")
	b.click("before")
	want(b, 2, "dryfit.scene.step")
	b.run("const s = document.getElementById('step'); s.focus(); s.value = 3; s.dispatchEvent(new Event('input', { bubbles: true }))")
	want(b, 3, "dryfit.scene.step")
	b.do(chromedp.KeyEvent(kb.Home))
	want(b, 0, "dryfit.scene.step")
	b.do(chromedp.KeyEvent(kb.ArrowRight))
	want(b, 1, "dryfit.scene.step")
	want(b, "step 1: Fit Red gem to Box", "document.getElementById('step').getAttribute('aria-valuetext')")
	b.do(chromedp.Focus(chromedp.ID("canvas")), chromedp.KeyEvent("n"))
	want(b, 2, "dryfit.scene.step")
	b.do(chromedp.KeyEvent("b"))
	want(b, 1, "dryfit.scene.step")
	b.do(chromedp.Click(chromedp.CSS("#steps [data-step='3']")))
	want(b, 3, "dryfit.scene.step")
}

// sound checks that a kit without a fault has no pattern and no mark.
func (b *tab) sound() {
	b.t.Helper()
	if n := b.count(black) + b.count(deepRed); n > 20 {
		b.t.Errorf("%d pixels of a pattern", n)
	}
	want(b, 0, "document.querySelectorAll('.mark').length")
	want(b, "✓ every piece can reach its seat", "document.getElementById('state').textContent")
	if got := b.text("findings"); !strings.Contains(got, "No finding") {
		b.t.Error(got)
	}
}

// shownIDs are the pieces that are shown, in the sequence of the kit.
const shownIDs = "dryfit.scene.shown().solid.slice().sort((a, b) => a - b).map(p => dryfit.model.pieces[p].id).join(' ')"

// TestPlay: pieces travel in along their way; for those who asked for less motion steps
// change without travelling.
func TestPlay(t *testing.T) {
	page := serve(t, chest(t, ""))
	for _, still := range kitstest.Some(t, 2, []bool{false, true}) { // TestKeyboardOnly plays with less motion, too
		t.Run(fmt.Sprint("reduced motion ", still), func(t *testing.T) {
			features := []string{}
			if still {
				features = append(features, calm)
			}
			b := newTab(t, 360, 270, features...)
			b.open(page)
			b.run(`window.far = 0; dryfit.on("drawn", () => { for (const o of dryfit.scene.offsets().values()) far = Math.max(far, Math.hypot(...o)) })`)
			b.click("play")
			want(b, "Stop", "document.getElementById('play').textContent")
			b.wait("the end", "!dryfit.playing() && dryfit.scene.step === 3")
			want(b, "Play", "document.getElementById('play').textContent")
			far := js[float64](b, "far")
			if still && far != 0 {
				t.Errorf("a piece has travelled %g mm", far)
			}
			if !still && far < 10 {
				t.Errorf("no piece has travelled more than %g mm", far)
			}
			want(b, 0, "dryfit.scene.offsets().size")
			b.click("play") // from the start again, and stopped on the way
			b.wait("playing", "dryfit.scene.step === 1")
			b.click("play")
			want(b, false, "dryfit.playing()")
		})
	}
}

// TestPullApartAndCut: each piece moves along its own way, and with it what sits on it. A cut
// through the middle shows what is within; what is cut off is not picked.
func TestPullApartAndCut(t *testing.T) {
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	want(b, 0, "dryfit.scene.offsets().size")
	b.run("const s = document.getElementById('apart'); s.value = 100; s.dispatchEvent(new Event('input', { bubbles: true }))")
	off := js[map[string][]float64](b, "Object.fromEntries([...dryfit.scene.offsets()].map(([p, o]) => [dryfit.model.pieces[p].id, o]))")
	if len(off) != 3 || len(off["box"]) != 0 {
		t.Fatalf("what has moved: %v", off)
	}
	for id, on := range map[string][]float64{"gem": {0, 0, 0}, "lid": {0, 0, 0}, "handle": off["lid"]} {
		toward := js[[]float64](b, "dryfit.model.steps.flatMap(s => s.movers).find(x => dryfit.model.pieces[x.pieces[0]].id === %q).way[0].toward", id)
		back := 0.0
		for k := range 3 {
			back -= toward[k] * (off[id][k] - on[k])
		}
		for k := range 3 {
			if back < 5 || math.Abs(off[id][k]-on[k]+back*toward[k]) > 1e-6 {
				t.Errorf("%s has moved by %v from what it sits on, its way is %v", id, off[id], toward)
			}
		}
	}
	if off["gem"][2] < 5 {
		t.Errorf("the gem has moved by %v, it comes from above", off["gem"])
	}
	b.run("const s = document.getElementById('apart'); s.value = 0; s.dispatchEvent(new Event('input', { bubbles: true }))")
	b.settle()
	b.cut()
}

// at is where a piece is on the screen.
func (b *tab) at(id string) (x, y float64) {
	b.t.Helper()
	p := js[[]float64](b, `(() => {
		const q = dryfit.model.pieces.find(p => p.id === %q), c = document.getElementById("canvas").getBoundingClientRect();
		const [x, y] = dryfit.camera.project([0, 1, 2].map(k => (q.min[k] + q.max[k]) / 2), c.width, c.height);
		return [c.left + x, c.top + y];
	})()`, id)
	return p[0], p[1]
}

const pickedID = "dryfit.model.pieces[dryfit.scene.picked]?.id ?? ''"

// TestPick: a click on a piece picks it, a click beside the model picks none; then only
// it is shown, or all but it, or all.
func TestPick(t *testing.T) {
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	x, y := b.at("handle")
	b.do(chromedp.MouseClickXY(x, y))
	want(b, "handle", pickedID)
	if got := b.text("picked"); got != "Handle: comes in step 3" {
		t.Error(got)
	}
	b.wait("its name over the model", "document.querySelector('.mark.name')?.textContent === 'Handle'")
	want(b, "handle", "dryfit.model.pieces[document.querySelector('#tree .leaf.picked').dataset.piece].id")
	b.click("hide")
	want(b, "box gem lid", shownIDs)
	b.do(chromedp.MouseClickXY(x, y)) // what was behind it
	want(b, "lid", pickedID)
	b.click("isolate")
	want(b, "lid", shownIDs)
	b.click("all")
	want(b, "box gem lid handle", shownIDs)
	// a turn is no click
	b.do(chromedp.DragAndDropXY(x, y, x+120, y+40))
	want(b, "lid", pickedID)
	if js[float64](b, "dryfit.camera.around") == 215 {
		t.Error("the model has not turned")
	}
	left := js[[]float64](b, "(() => { const c = document.getElementById('canvas').getBoundingClientRect(); return [c.left + 5, c.top + 5] })()")
	b.do(chromedp.MouseClickXY(left[0], left[1]))
	want(b, "", pickedID)
	want(b, true, "document.getElementById('hide').disabled")
}

// TestTreeAndSearch: what is picked in the tree is picked in the view, and stepped to when
// it is not there yet; so is what is found by its words.
func TestTreeAndSearch(t *testing.T) {
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	b.run("dryfit.scene.go(1)")
	b.click("tab-tree")
	b.do(chromedp.Click(chromedp.Search("//*[@id='tree']//button[text()='Lid of the box']")))
	want(b, "lid", pickedID)
	want(b, 2, "dryfit.scene.step")
	want(b, "2", "document.querySelector('#steps [aria-current]').dataset.step")
	b.do(chromedp.Click(chromedp.Search("//*[@id='tree']//button[text()='Red gem']")))
	want(b, "gem", pickedID)
	want(b, 2, "dryfit.scene.step") // it is there already
	b.search()
}

// search checks that a part is found by its words, and shown with the step that it comes in.
func (b *tab) search() {
	t := b.t
	t.Helper()
	b.do(chromedp.SendKeys(chromedp.ID("search"), "THE lid"))
	if got := b.text("hits"); !strings.Contains(got, "1 found") || !strings.Contains(got, "comes in step 2") {
		t.Error(got)
	}
	b.do(chromedp.KeyEvent(kb.Enter))
	want(b, "lid", pickedID)
	b.do(chromedp.KeyEvent(kb.Escape))
	want(b, "", "document.getElementById('search').value + document.getElementById('hits').textContent")
	b.do(chromedp.SendKeys(chromedp.ID("search"), "no such thing"))
	if got := b.text("hits"); !strings.Contains(got, "nothing found") {
		t.Error(got)
	}
}

// cut checks what a cut shows.
func (b *tab) cut() {
	t := b.t
	t.Helper()
	x, y := b.at("handle")
	b.run("const s = document.getElementById('cut-axis'); s.value = 'z'; s.dispatchEvent(new Event('input', { bubbles: true }))")
	b.settle()
	b.do(chromedp.MouseClickXY(x, y))
	if got := js[string](b, pickedID); got == "handle" {
		t.Error("the handle is picked though it is cut off")
	}
	x, y = b.at("gem")
	b.run("const s = document.getElementById('cut'); s.value = 37; s.dispatchEvent(new Event('input', { bubbles: true }))")
	b.settle()
	b.do(chromedp.MouseClickXY(x, y))
	want(b, "gem", pickedID)
}
