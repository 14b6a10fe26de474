package page

import (
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
)

const look = "document.getElementById('state').className"

// greens makes a page keep the names of all kits that it ever shows as good.
func (b *tab) greens() {
	b.run(`window.greens = [];
		const see = () => { if (document.querySelector('.good')) greens.push(dryfit.model.kit) };
		new MutationObserver(see).observe(document.querySelector('header'), { subtree: true, childList: true, attributes: true, characterData: true })`)
}

// TestNeverGreenWhileBroken: a save that breaks the kit is not green from the moment at
// which it is noticed, while it is checked and when it is found out; put right, it is
// green again.
func TestNeverGreenWhileBroken(t *testing.T) {
	f := chest(t, "")
	s := f.server(Maker{})
	g := newGate(t, s)
	b := newTab(t, 1000, 700)
	b.open(serveThis(t, s))
	want(b, "good", look)
	b.greens()
	f.edit(t, "fit: gem", "fit: gemm")
	<-g.began
	b.wait("the check", "document.body.dataset.phase === 'checking'")
	want(b, "wait", look)
	want(b, "◌ being checked again since kit.yaml was saved", "document.getElementById('state').textContent")
	want(b, "No findings in the last good state, which is not the present one.", "document.getElementById('findings').textContent")
	s.tell("finding what blocks what", 0.42)
	b.wait("how far it is", "document.getElementById('far').textContent.includes('finding what blocks what, 42\\u00a0%%, begun ')")
	g.pass <- struct{}{}
	b.wait("the end of it", "document.body.dataset.phase === 'broken'")
	want(b, "bad", look)
	if got := b.text("state"); !strings.HasPrefix(got, "✕ broken: the files cannot be read; you see the last good state, of ") {
		t.Error(got)
	}
	if got := b.text("old"); !strings.HasPrefix(got, "last good state, of ") {
		t.Errorf("the model is headed %q", got)
	}
	want(b, true, "document.getElementById('far').hidden")
	b.wait("why", "document.getElementById('trouble').textContent.includes('kit.yaml:10:')")
	want(b, 0, "greens.length")
	g.open()
	f.edit(t, "fit: gemm", "fit: gem")
	b.wait("green again", "%s === 'good'", look)
	want(b, "", "document.getElementById('old').textContent")
	want(b, true, "document.getElementById('trouble').hidden")
	want(b, "No findings: every piece can reach its seat.", "document.getElementById('findings').textContent")
}

// TestSaveDuringCheck: what was saved in the midst of a check is never shown as good, only
// what was saved last.
func TestSaveDuringCheck(t *testing.T) {
	kitstest.Repeats(t, "TestNeverGreenWhileBroken")
	f := chest(t, "")
	s := f.server(Maker{})
	g := newGate(t, s)
	b := newTab(t, 1000, 700)
	b.open(serveThis(t, s))
	b.greens()
	f.edit(t, "kit: Chest", "kit: Chest A")
	check := <-g.began
	f.edit(t, "kit: Chest A", "kit: Chest B")
	<-check.Done()
	b.wait("the save", "document.body.dataset.phase === 'out of date'")
	want(b, "◌ out of date since kit.yaml was saved", "document.getElementById('state').textContent")
	g.open()
	b.wait("the end of it", "%s === 'good'", look)
	if got := js[[]string](b, "[...new Set(greens)]"); !slices.Equal(got, []string{"Chest B"}) {
		t.Errorf("green were %q", got)
	}
}

// TestMeshLost: a kit without one of its meshes is not green, and names it.
func TestMeshLost(t *testing.T) {
	kitstest.Repeats(t, "TestShapesLost")
	f := chest(t, "")
	b := newTab(t, 1000, 700)
	b.open(serve(t, f))
	b.greens()
	b.must(os.Remove(filepath.Join(f.meshes(), "handle.stl")))
	b.wait("the fault", "document.getElementById('state').textContent === '✕ 1 fault'")
	want(b, "bad", look)
	if got := b.text("findings"); !strings.Contains(got, "handle has no mesh") {
		t.Error(got)
	}
	want(b, 0, "greens.length")
}

// TestOnePageTooMany: a page that is not followed says so instead of what it cannot know.
func TestOnePageTooMany(t *testing.T) {
	kitstest.Repeats(t, "TestServerGone")
	s := chest(t, "").server(Maker{})
	for range maxFollowers {
		s.followers[new(follower)] = true
	}
	b := newTab(t, 1000, 700)
	b.expect = []string{"/events", "503"}
	b.open(serveThis(t, s))
	b.wait("the word of it", "document.getElementById('state').textContent.startsWith('✕ this page does not follow changes')")
	want(b, "bad", look)
}

// TestLateStatus: a status that arrives after a newer one changes nothing.
func TestLateStatus(t *testing.T) {
	kitstest.Repeats(t, "TestLateResult")
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	b.run("window.old = { phase: 'current', shown: 1, tag: dryfit.tag, version: 1 }; dryfit.hear({ ...old, phase: 'checking', version: 1e16 }); dryfit.hear(old)")
	want(b, "wait", look)
}
