package page

import (
	"fmt"
	"slices"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"dryfit/kits/kitstest"
)

// focused names what has the focus, and says whether that can be seen: by an outline,
// inside the window.
const focused = `(() => {
	const e = document.activeElement, s = getComputedStyle(e), r = e.getBoundingClientRect();
	const seen = s.outlineStyle !== "none" && parseFloat(s.outlineWidth) >= 2 && r.width > 0 && r.bottom > 0 && r.top < innerHeight && r.right > 0 && r.left < innerWidth;
	return [e.id || e.dataset.step || e.className || e.tagName, seen ? "seen" : "not seen"];
})()`

// TestKeyboardOrder: Tab goes through all that can be worked, in the sequence in which
// it stands, and the focus is always seen.
func TestKeyboardOrder(t *testing.T) {
	page := serve(t, chest(t, ""))
	for _, width := range kitstest.Some(t, 2, []int64{1280, 360}) {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			b := newTab(t, width, 800)
			b.open(page)
			b.run("dryfit.scene.go(1); dryfit.scene.pick(0)")
			var order []string
			for range 30 {
				b.do(chromedp.KeyEvent(kb.Tab))
				at := js[[]string](b, focused)
				if at[0] == "BODY" {
					break
				}
				if at[1] != "seen" {
					t.Errorf("the focus on %s is not seen", at[0])
				}
				order = append(order, at[0])
			}
			wanted := []string{"skip", "canvas", "SUMMARY", "before", "step", "next", "play", "apart", "cut-axis", "isolate", "hide", "all", "fit", "pale", "search", "tab-steps", "steps", "SUMMARY", "1", "2", "3"}
			if !slices.Equal(order, wanted) {
				t.Errorf("Tab goes\n%v, want\n%v", order, wanted)
			}
		})
	}
}

// TestKeyboardOnly: from the address to a ticked last call without a mouse.
func TestKeyboardOnly(t *testing.T) {
	f := chest(t, "")
	b := newTab(t, 1280, 800, calm)
	b.open(serve(t, f))
	press := func(keys ...string) {
		for _, k := range keys {
			b.do(chromedp.KeyEvent(k))
		}
	}
	tabTo := func(id string) {
		t.Helper()
		for range 40 {
			if js[string](b, "document.activeElement.id") == id {
				return
			}
			press(kb.Tab)
		}
		t.Fatalf("Tab does not reach %s", id)
	}
	tabTo("canvas")
	was := js[[]float64](b, "[dryfit.camera.around, dryfit.camera.above, dryfit.camera.tall, dryfit.camera.centre[2]]")
	press(kb.ArrowLeft, kb.ArrowUp, "+")
	b.do(chromedp.KeyEvent(kb.ArrowUp, chromedp.KeyModifiers(kb.ModifierShift)))
	now := js[[]float64](b, "[dryfit.camera.around, dryfit.camera.above, dryfit.camera.tall, dryfit.camera.centre[2]]")
	for k := range was {
		if was[k] == now[k] {
			t.Errorf("what is at %d of %v has not changed", k, now)
		}
	}
	press("0", "n", "n")
	want(b, 2, "dryfit.scene.step")
	want(b, 1, "[...document.querySelectorAll('.steps .cautions')].filter(x => x.offsetHeight > 0).length") // of this step alone
	press("p")
	b.wait("the end", "dryfit.scene.step === 3 && !dryfit.playing()")
	tabTo("cut-axis")
	press("x") // the first entry that has it: across x
	press(kb.ArrowDown)
	if js[int](b, "dryfit.scene.cutAxis") < 0 {
		t.Error("there is no cut")
	}
	tabTo("cut")
	press(kb.Home)
	want(b, 0, "dryfit.scene.cut")
	tabTo("search")
	press("lid", kb.Enter)
	want(b, "lid", pickedID)
	press(kb.Escape)
	tabTo("tab-steps")
	press(kb.ArrowRight)
	want(b, "tab-findings", "document.activeElement.id")
	press(kb.ArrowRight)
	want(b, false, "document.getElementById('calls').hidden")
	press(kb.Home, kb.End)
	want(b, "tab-parts", "document.activeElement.id")
	press(kb.ArrowLeft, kb.ArrowLeft)
	press(kb.Tab, kb.Tab, kb.Tab, " ")
	b.wait("the tick", "document.querySelector('#calls input').checked")
	b.wait("its record", "dryfit.ticks.has(dryfit.model.steps.flatMap(s => s.last_call)[0])")
	if ticked := f.ticked(t); len(ticked) != 1 {
		t.Errorf("ticked %q", ticked)
	}
}

// TestNarrow: at 360 pixels nothing makes the page scroll sideways, in any list, with
// long names and with trouble shown; stepping leaves the model in sight.
func TestNarrow(t *testing.T) {
	f := demoKit(t)
	b := newTab(t, 360, 800)
	b.open(serve(t, f))
	b.run("dryfit.scene.go(90); dryfit.scene.pick(3); dryfit.say('kit.yaml:10:12: ' + 'x'.repeat(300), true); document.getElementById('search').value = 'e'; document.getElementById('search').dispatchEvent(new Event('input'))")
	for _, tab := range []string{"steps", "findings", "calls", "tree", "parts"} {
		b.run("dryfit.openTab(%q)", tab)
		want(b, 360, "document.documentElement.scrollWidth")
	}
	want(b, 0, "scrollY")
}
