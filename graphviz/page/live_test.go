package page

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/heapprofiler"
	cdpruntime "github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// TestLive checks that a saved change is shown, and that a broken save is
// reported with its position while the last good state stays, until it is fixed;
// view, step and what is picked stay.
func TestLive(t *testing.T) {
	f := chest(t, "")
	b := newTab(t, 1000, 700)
	b.open(serve(t, f))
	b.run("dryfit.scene.go(2); dryfit.scene.pick(2); dryfit.camera.turn(33, 5); dryfit.camera.zoom(0.7)")
	const view = "JSON.stringify([dryfit.scene.step, dryfit.camera.around, dryfit.camera.above, dryfit.camera.tall, dryfit.camera.centre])"
	before := js[string](b, view)

	// a piece more, before the one that is picked
	writeMesh(t, filepath.Join(f.meshes(), "foot.stl"), meshtest.Transform(meshtest.Cubes(meshtest.Cells("110"), 10), meshtest.Identity, [3]float64{0, 0, -10}, 1))
	f.edit(t, "  gem: {", "  foot: {name: Foot, printed: resin}\n  gem: {")
	f.edit(t, "joins:\n", "joins:\n  - {fit: foot, to: box, with: ca, after: [handle]}\n")
	b.wait("the foot", "dryfit.model.pieces.length === 5")
	want(b, before, view)
	want(b, "lid", pickedID)

	f.edit(t, "to: box, with: ca}\n  - {fit: handle", "to: boxx, with: ca}\n  - {fit: handle")
	b.wait("the trouble", "!document.getElementById('trouble').hidden")
	if got := b.text("trouble"); !strings.Contains(got, "kit.yaml:13:20: ") || !strings.Contains(got, "boxx") {
		t.Errorf("the trouble is %q", got)
	}
	want(b, 5, "dryfit.model.pieces.length")
	want(b, before, view)
	b.click("next")
	want(b, 3, "dryfit.scene.step") // the page still works
	b.click("before")

	f.edit(t, "boxx", "box")
	b.wait("the end of the trouble", "document.getElementById('trouble').hidden")
	want(b, before, view)

	// who is at work in a list stays there
	b.click("tab-tree")
	b.run("[...document.querySelectorAll('#tree button')].find(e => e.textContent === 'Handle').focus()")
	f.edit(t, "Red gem", "Green gem")
	b.wait("the green gem", "dryfit.model.pieces.some(p => p.label === 'Green gem')")
	want(b, "tree: Handle", "`${document.activeElement.closest('[role=tabpanel]')?.id}: ${document.activeElement.textContent}`")
	b.run("[...document.querySelectorAll('#tree button')].find(e => e.textContent === 'Green gem').focus()")
	f.edit(t, "Green gem", "Blue gem")
	b.wait("the blue gem", "dryfit.model.pieces.some(p => p.label === 'Blue gem')")
	want(b, "tree", "document.activeElement.closest('[role=tabpanel]')?.id") // what had the focus is no more

	// a mesh alone
	was := js[string](b, "dryfit.model.pieces.find(p => p.id === 'handle').shape")
	writeMesh(t, filepath.Join(f.meshes(), "handle.stl"), meshtest.Cubes(meshtest.Cells("113 114"), 10))
	b.wait("the taller handle", "dryfit.model.pieces.find(p => p.id === 'handle').shape !== %q", was)
	want(b, 5, "dryfit.shapes.size")
	want(b, before, view)
}

// TestBrokenFromTheStart: a page of a kit that cannot be read says why, works as
// well as it can, and recovers when the kit is fixed.
func TestBrokenFromTheStart(t *testing.T) {
	kitstest.Repeats(t, "TestNeverGreenWhileBroken")
	f := chest(t, "")
	f.edit(t, "fit: gem", "fit: gemm")
	b := newTab(t, 1000, 700)
	b.open(serve(t, f))
	if got := b.text("trouble"); !strings.Contains(got, "kit.yaml:10:") || !strings.Contains(got, "gemm") {
		t.Errorf("the trouble is %q", got)
	}
	b.do(chromedp.Click(chromedp.ID("fit")), chromedp.Click(chromedp.ID("play")), chromedp.Click(chromedp.ID("tab-tree")),
		chromedp.MouseClickXY(200, 200), chromedp.SendKeys(chromedp.ID("search"), "lid"))
	f.edit(t, "gemm", "gem")
	b.wait("the kit", "dryfit.model.pieces.length === 4")
	b.wait("the end of the trouble", "document.getElementById('trouble').hidden")
	if n := b.count(func(r, g, b int) bool { return r < 240 }); n < 5000 {
		t.Errorf("the model has %d pixels", n)
	}
}

// TestServerGone: the page says so, is not green any more, and keeps what it has.
func TestServerGone(t *testing.T) {
	f := chest(t, "")
	b := newTab(t, 1000, 700)
	page, end := serveWith(t, f.server(Maker{}))
	b.open(page)
	b.expect = []string{"/events", "ERR_CONNECTION_REFUSED", "ERR_INCOMPLETE_CHUNKED_ENCODING"}
	if err := end(); err != nil {
		t.Fatal(err)
	}
	b.wait("the word of it", "document.getElementById('state').textContent.startsWith('✕ the server is gone; you see the last good state, of ')")
	want(b, "bad", look)
	want(b, "gone", "document.body.dataset.phase")
	b.click("next")
	want(b, 1, "dryfit.scene.step")
}

// TestTicks: a line of a last call that is ticked stands in the progress file, and is
// ticked when the page is opened again; an edit of that file by hand is not lost.
func TestTicks(t *testing.T) {
	f := chest(t, "")
	file := progress.Path(f.file())
	if err := os.WriteFile(file, []byte("# mine\npieces:\n  box: printed\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	page := serve(t, f)
	b := newTab(t, 1000, 700)
	b.open(page)
	b.click("tab-calls")
	id := firstCall(t, f).ID
	const first = "dryfit.model.steps.flatMap(s => s.last_call)[0]"
	b.do(chromedp.Click(chromedp.CSS("#calls input")))
	b.wait("the tick", "dryfit.ticks.has(%s)", first)
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if s := string(text); !strings.Contains(s, "# mine") || !strings.Contains(s, "box: printed") || !strings.Contains(s, id) {
		t.Errorf("the progress file is\n%s", s)
	}
	other := newTab(t, 1000, 700)
	other.open(page)
	other.click("tab-calls")
	want(other, true, "document.querySelector('#calls input').checked")
	// a kit file that cannot be read takes no tick away
	f.edit(t, "fit: gem", "fitt: gem")
	b.wait("the trouble", "!document.getElementById('trouble').hidden")
	want(b, true, "document.querySelector('#calls input').checked")
	f.edit(t, "fitt: gem", "fit: gem")
	b.wait("the end of the trouble", "document.getElementById('trouble').hidden")
	b.do(chromedp.Click(chromedp.CSS("#calls input")))
	b.wait("the tick to go", "!dryfit.ticks.has(%s)", first)
	other.wait("the tick to go on another page", "!document.querySelector('#calls input').checked")
	if ticked := f.ticked(t); len(ticked) > 0 {
		t.Errorf("ticked %q", ticked)
	}
	// a progress file that cannot be read is reported, and not overwritten
	const broken = "pieces: [\n"
	if err := os.WriteFile(file, []byte(broken), 0o644); err != nil {
		t.Fatal(err)
	}
	b.expect = []string{"/tick", "409"}
	b.do(chromedp.Click(chromedp.CSS("#calls input")))
	b.wait("why not", "document.getElementById('trouble').textContent.includes(%q)", filepath.Base(file))
	// The page may hear of the broken file before it hears that the tick was refused.
	b.wait("the tick to be taken back", "!document.querySelector('#calls input').checked")
	if text, err := os.ReadFile(file); err != nil || string(text) != broken {
		t.Errorf("the progress file is %q, %v", text, err)
	}
}

// TestOldTicks: a tick that an older program recorded as a sentence shows, and taking it
// back takes the sentence out of the file; another one stays.
func TestOldTicks(t *testing.T) {
	f := chest(t, "")
	call := firstCall(t, f)
	if call.sentence != "Fit Lid of the box to Box: "+call.Text {
		t.Fatalf("the sentence is %q", call.sentence)
	}
	const other = "Fit something: that is no more"
	text := fmt.Sprintf("ticked:\n  - %q\n  - %q\n", call.sentence, other)
	if err := os.WriteFile(progress.Path(f.file()), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	var s state
	s.refresh(t.Context(), f.check, always, func() {})
	ticked := func() []string {
		p, err := f.kit().ticked()
		if err != nil {
			t.Fatal(err)
		}
		return s.ticked(p)
	}
	if got := ticked(); !slices.Equal(got, []string{call.ID}) {
		t.Errorf("%q are shown as ticked, want %q", got, call.ID)
	}
	if err := f.kit().tick(call, false); err != nil {
		t.Fatal(err)
	}
	if got := f.ticked(t); len(ticked()) != 0 || !slices.Equal(got, []string{other}) {
		t.Errorf("ticked %q", got)
	}
}

// TestReloadsInTheBrowser: 60 changes of a kit leave no shape and no memory behind, in
// the page and on the graphics card. The bound leaves room for what the browser keeps.
func TestReloadsInTheBrowser(t *testing.T) {
	f := chest(t, "")
	b := newTab(t, 800, 600)
	s := f.server(Maker{})
	s.watched = func() []string { return nil }
	page, _ := serveWith(t, s)
	b.open(page)
	b.wait("the kit", "dryfit.model.kit === 'Chest'")
	heap := func() int {
		b.do(call(heapprofiler.CollectGarbage, cdp.Empty{}))
		usage, err := chromedp.Call(b.ctx, cdpruntime.GetHeapUsage, cdp.Empty{})
		b.must(err)
		return int(usage.UsedSize)
	}
	early := 0
	rounds := kitstest.Rounds(t, 60, 15)
	for i := range rounds {
		cells := meshtest.Cells(ring(2) + " 112" + fmt.Sprintf(" %d%d3", i%10, 9-i/10))
		writeMesh(t, filepath.Join(f.meshes(), "lid.stl"), meshtest.Cubes(cells, 10))
		f.write(t, strings.Replace(fmt.Sprintf(chestText, ""), "Chest", fmt.Sprintf("Chest %d", i), 1))
		s.state.refresh(t.Context(), f.check, always, func() {})
		s.wake()
		b.wait("the change", "dryfit.model.kit === 'Chest %d'", i)
		b.run("await new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
		if i == 10 {
			early = heap()
		}
	}
	late := heap()
	t.Logf("heap of the page after 10 changes %d kB, after %d %d kB", early/1000, rounds, late/1000)
	if late > early+1<<20 {
		t.Errorf("heap of the page after 10 changes %d, after %d %d", early, rounds, late)
	}
	want(b, 4, "dryfit.shapes.size")
	if n := js[int](b, "dryfit.gl.held()"); n > 4 {
		t.Errorf("%d shapes are on the graphics card", n)
	}
}

// TestLiveDemo: after a save the demonstration kit is shown anew before it has been
// checked, and its findings follow; the view stays. It logs how long both take.
func TestLiveDemo(t *testing.T) {
	kitstest.Repeats(t, "TestLive")
	f := demoKit(t)
	var holding atomic.Bool
	release := make(chan struct{})
	check := func(ctx context.Context, read func([]*mesh.Mesh)) (*plan.Project, error) {
		return f.check(ctx, func(list []*mesh.Mesh) {
			read(list)
			if holding.Load() { // measure only when the test has seen the picture
				select {
				case <-release:
				case <-ctx.Done():
				}
			}
		})
	}
	s := f.server(Maker{})
	s.load = check
	b := newTab(t, 1000, 700)
	b.open(serveThis(t, s))
	b.run("dryfit.scene.go(90)")
	view := js[string](b, "JSON.stringify([dryfit.scene.step, dryfit.camera])")
	hull := filepath.Join(f.meshes(), "hull-port-fore.stl") // the largest piece, which most others touch
	for _, c := range []struct {
		name   string
		hold   bool
		change func()
	}{
		{"the kit file", false, func() { f.edit(t, "kit: Skerrivane", "kit: New Skerrivane") }},
		{"a half of the hull", true, func() {
			data, err := os.ReadFile(hull)
			b.must(err)
			first, second := data[84:134], data[134:184]
			b.must(os.WriteFile(hull, slices.Concat(data[:84], second, first, data[184:]), 0o644)) // the same form, another mesh
		}},
	} {
		b.run("window.changed = new Promise(done => { const was = dryfit.model; dryfit.on('drawn', () => { if (dryfit.model !== was) done(dryfit.model.unchecked) }) })")
		began := time.Now()
		holding.Store(c.hold)
		c.change()
		if unchecked := js[bool](b, "window.changed"); c.hold && !unchecked {
			t.Errorf("%s: the picture is said to be checked before it was", c.name)
		}
		took := time.Since(began)
		if c.hold {
			close(release)
		}
		b.wait("the check", "!dryfit.model.unchecked && !document.getElementById('state').textContent.includes('again')")
		t.Logf("%s: %v from the save to the picture, %v to the findings", c.name, took.Round(time.Millisecond), time.Since(began).Round(time.Millisecond))
	}
	want(b, view, "JSON.stringify([dryfit.scene.step, dryfit.camera])")
	if got := b.text("kit"); !strings.HasPrefix(got, "New ") {
		t.Error(got)
	}
}

// TestShapesLost: when the shapes of a change do not arrive, that is told, what was
// shown stays, and the next word from the server brings them.
func TestShapesLost(t *testing.T) {
	f := chest(t, "")
	b := newTab(t, 1000, 700)
	b.open(serve(t, f))
	b.run(`window.whole = fetch; window.fetch = (a, ...rest) => String(a).startsWith("shape/") ? Promise.reject(new Error("the line is cut")) : whole(a, ...rest)`)
	const high = "dryfit.model.pieces.find(p => p.id === 'handle').max[2]"
	before := js[float64](b, high)
	writeMesh(t, filepath.Join(f.meshes(), "handle.stl"), meshtest.Cubes(meshtest.Cells("113 114"), 10))
	b.wait("the trouble", "document.getElementById('trouble').textContent.includes('the line is cut')")
	want(b, before, high)
	b.run("window.fetch = whole")
	f.edit(t, "Red gem", "Green gem")
	b.wait("the taller handle", "%s === %g", high, before+10)
	b.wait("the end of the trouble", "document.getElementById('trouble').hidden")
	want(b, 4, "dryfit.shapes.size")
}
