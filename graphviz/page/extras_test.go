package page

import (
	"context"
	"errors"
	"io"
	"net/http"
	"path/filepath"
	"slices"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"

	"dryfit/graphviz/svg"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
)

// maker makes things that tell what they are, and counts how often it is asked.
func maker(asked *atomic.Int32) Maker {
	const svg = `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 40 30"><title>%</title></svg>`
	return Maker{
		Pictures: func(context.Context, *plan.Project) (map[int][]byte, error) {
			asked.Add(1)
			return map[int][]byte{2: []byte(strings.ReplaceAll(svg, "%", "two"))}, nil
		},
		Plates: func(_ context.Context, rep *plan.Project) (*Plates, error) {
			asked.Add(1)
			return &Plates{Says: "4 pieces on 2 plates.",
				Findings: []plan.Finding{{Kind: "printing", Grade: plan.Note, Text: rep.Kit.File + ": a word on printing"}},
				List: []Plate{
					{"Plate 1: red on desk", "2 pieces, 3 h", []Printed{{"Red gem", []string{"gem"}}, {"Jig", []string{"jig"}}}, []byte(strings.ReplaceAll(svg, "%", "plate one"))},
					{"Plate 2: grey on desk", "2 pieces, 5 h", []Printed{{"Lid of the box", []string{"lid"}}}, []byte(strings.ReplaceAll(svg, "%", "plate two"))},
				}}, nil
		},
		Days: func(*plan.Project, *plan.Schedule) (*Days, error) {
			asked.Add(1)
			return &Days{"Done on day 2.", []Day{{1, []TimedStep{{1, "Fit the gem", "0:00", "5 min", "24 h", true}}}, {2, []TimedStep{{2, "Fit the lid", "0:00", "5 min", "", false}}}}, true, []byte(strings.ReplaceAll(svg, "%", "chart"))}, nil
		},
	}
}

// timedChest is the chest with a printer and with times.
func timedChest(t testing.TB) folder {
	f := chest(t, "")
	f.edit(t, "parts:\n  box", "printers:\n  desk: {process: resin, volume: [100, 100, 100]}\nparts:\n  box")
	f.edit(t, "{fit: handle, to: lid, with: ca}", "{fit: handle, to: lid, with: ca, takes: 5m}")
	return f
}

// TestExtras: each thing is made once, when it is first asked for; what there is
// not is not found, nor is an invalid name.
func TestExtras(t *testing.T) {
	rep, err := timedChest(t).check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var asked atomic.Int32
	e := newExtras(t.Context(), maker(&asked), rep)
	if asked.Load() != 0 {
		t.Error("things are made that nobody has asked for")
	}
	for name, want := range map[string]string{
		"picture/2.svg": "two", "plates.json": "4 pieces on 2 plates", "plate/2.svg": "plate two", "days.json": "Done on day 2", "days.svg": "chart",
		"picture/3.svg": "", "picture/02.svg": "", "picture/+2.svg": "", "picture/2": "", "plate/0.svg": "", "plate/3.svg": "", "plate/-1.svg": "",
		"plates": "", "days": "", "picture/2.svg/..": "", "": "",
	} {
		for range 2 {
			data, err := e.file(name)
			if err != nil || (data == nil) != (want == "") || !strings.Contains(string(data), want) {
				t.Errorf("%s is %.60q, %v; want %q", name, data, err, want)
			}
		}
	}
	if asked.Load() != 3 {
		t.Errorf("three things were made %d times", asked.Load())
	}
	// what could not be made is tried again
	tries := 0
	hard := once(func() (string, error) {
		if tries++; tries < 3 {
			return "", errors.New("not yet")
		}
		return "done", nil
	})
	for i, want := range []string{"", "", "done", "done"} {
		if got, err := hard(); got != want || (err == nil) != (want != "") {
			t.Errorf("try %d: %q, %v", i, got, err)
		}
	}
	if tries != 3 {
		t.Errorf("%d tries", tries)
	}
	none := newExtras(t.Context(), Maker{}, rep)
	bad := errors.New("no")
	broken := newExtras(t.Context(), Maker{
		Pictures: func(context.Context, *plan.Project) (map[int][]byte, error) { return nil, bad },
		Plates:   func(context.Context, *plan.Project) (*Plates, error) { return nil, bad },
		Days:     func(*plan.Project, *plan.Schedule) (*Days, error) { return nil, bad },
	}, rep)
	for _, name := range []string{"picture/2.svg", "plates.json", "plate/1.svg", "days.json", "days.svg"} {
		if data, err := none.file(name); data != nil || err != nil {
			t.Errorf("%s without a maker: %q, %v", name, data, err)
		}
		if _, err := broken.file(name); !errors.Is(err, bad) {
			t.Errorf("%s: the error is %v", name, err)
		}
	}
}

// TestExportWithout: plates and days that cannot be planned do not keep the page from
// being written, and it is told why; pictures that cannot be drawn do.
func TestExportWithout(t *testing.T) {
	rep, err := timedChest(t).check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	m := maker(new(atomic.Int32))
	m.Plates = func(context.Context, *plan.Project) (*Plates, error) {
		return nil, errors.New("too many")
	}
	m.Days = func(*plan.Project, *plan.Schedule) (*Days, error) { return nil, errors.New("too long") }
	var told []string
	warn := func(text string) { told = append(told, text) }
	made, err := Files(t.Context(), rep, m, warn)
	if err != nil || len(made) < 10 || !slices.Equal(told, []string{"the page is without plates: too many", "the page is without days: too long"}) {
		t.Errorf("%d files, %v; told %q", len(made), err, told)
	}
	m.Pictures = func(context.Context, *plan.Project) (map[int][]byte, error) {
		return nil, errors.New("no ink")
	}
	if _, err := Files(t.Context(), rep, m, warn); err == nil {
		t.Error("the pictures are missed by nobody")
	}
}

// TestReplanning: while plates are planned anew those of before lead nowhere, and the
// new ones lead to the pieces as they are now.
func TestReplanning(t *testing.T) {
	kitstest.Repeats(t, "TestPlanning")
	f := timedChest(t)
	m := maker(new(atomic.Int32))
	plates, wait := m.Plates, make(chan struct{}, 1)
	m.Plates = func(ctx context.Context, rep *plan.Project) (*Plates, error) {
		<-wait
		return plates(ctx, rep)
	}
	s := f.server(m)
	b := newTab(t, 1000, 700)
	b.open(serveThis(t, s))
	const status, lid = "document.querySelector('#plates [role=status]')?.textContent", "[...document.querySelectorAll('#plates button')].find(e => e.textContent === 'Lid of the box').click()"
	b.click("tab-plates")
	b.wait("the word that it is planned", status+" === 'Planning…'")
	wait <- struct{}{}
	b.wait("the plates", "document.querySelectorAll('.plate').length === 2")
	writeMesh(t, filepath.Join(f.meshes(), "foot.stl"), meshtest.Transform(meshtest.Cubes(meshtest.Cells("110"), 10), meshtest.Identity, [3]float64{0, 0, -10}, 1))
	f.edit(t, "  box: {", "  foot: {name: Foot, printed: resin}\n  box: {")
	f.edit(t, "joins:\n", "joins:\n  - {fit: foot, to: box, with: ca, after: [handle]}\n")
	b.wait("the foot", "dryfit.model.pieces.length === 5")
	b.wait("the word that it is planned again", status+" === 'Planning…'")
	b.run(lid)
	want(b, -1, "dryfit.scene.picked")
	close(wait)
	b.wait("the new plates", "!document.getElementById('plates').hasAttribute('aria-busy')")
	b.run(lid)
	want(b, "lid", pickedID)
	want(b, true, status+" === undefined")
	// a drawing that is asked for after the printers are gone would not be found
	b.wait("the drawings", "[...document.querySelectorAll('#plates img')].every(e => e.complete)")
	// the list goes away under whoever works in it
	b.run("document.querySelector('#plates button').focus()")
	f.edit(t, "printers:\n  desk: {process: resin, volume: [100, 100, 100]}\n", "")
	b.wait("the steps", "document.getElementById('tab-plates').hidden")
	want(b, "tab-steps", "document.activeElement.id")
}

// TestExtrasServed: what there is comes with its kind; all else is not found.
func TestExtrasServed(t *testing.T) {
	f := timedChest(t)
	var asked atomic.Int32
	s := f.server(maker(&asked))
	page := serveThis(t, s)
	for name, kind := range map[string]string{
		"picture/2.svg": "image/svg+xml", "plates.json": "application/json", "plate/1.svg": "image/svg+xml", "days.json": "application/json", "days.svg": "image/svg+xml",
		"picture/1.svg": "", "picture/x.svg": "", "picture/": "", "picture/../index.html": "", "plate/": "", "nothing": "",
	} {
		r, err := http.Get(page + name)
		if err != nil {
			t.Fatal(err)
		}
		body, err := io.ReadAll(r.Body)
		r.Body.Close()
		if err != nil || (kind == "") != (r.StatusCode == http.StatusNotFound) || kind != "" && r.Header.Get("Content-Type") != kind {
			t.Errorf("%s: %d %s, %v", name, r.StatusCode, r.Header.Get("Content-Type"), err)
		}
		if strings.Contains(string(body), string(f)) {
			t.Errorf("%s tells where the kit is: %s", name, body)
		}
	}
	if got := string(svg.Standalone([]byte(`<svg role="img"></svg>`))); !strings.HasPrefix(got, pictureStart) || !ours([]byte(got)) {
		t.Error(got)
	}
}

// TestPlanning: plates and days are planned when their list is opened, lead to pieces
// and steps, and have their drawings; from a server and from disk alike. A kit that has
// neither shows neither.
func TestPlanning(t *testing.T) {
	f := timedChest(t)
	var asked atomic.Int32
	s := f.server(maker(&asked))
	for _, page := range kitstest.Some(t, 2, []string{serveThis(t, s), exportedPage(t, f, maker(new(atomic.Int32)))}) {
		b := newTab(t, 1000, 700)
		b.open(page)
		if before := asked.Load(); strings.HasPrefix(page, "http") && before != 0 {
			t.Errorf("%d plans were made before anybody looked", before)
		}
		b.click("tab-plates")
		b.wait("the plates", "document.querySelectorAll('.plate').length === 2")
		text := b.text("plates")
		for _, s := range []string{"4 pieces on 2 plates.", "Plate 1: red on desk", "2 pieces, 3 h", "Jig", "note: printing", "a word on printing"} {
			if !strings.Contains(text, s) {
				t.Errorf("the plates do not say %q: %s", s, text)
			}
		}
		b.run("document.querySelectorAll('#plates img').forEach(i => { i.loading = 'eager' })")
		b.wait("the drawings", "[...document.querySelectorAll('#plates img')].every(i => i.complete && i.naturalWidth > 0)")
		b.do(chromedp.Click(chromedp.Search("//*[@id='plates']//button[text()='Lid of the box']")))
		want(b, "lid", pickedID)
		b.click("tab-days")
		b.wait("the days", "document.querySelectorAll('#days table').length === 2")
		if text := b.text("days"); !strings.Contains(text, "Done on day 2.") || !strings.Contains(text, "24 h") {
			t.Errorf("the days say %s", text)
		}
		want(b, true, "[...document.querySelectorAll('#days th')].every(e => e.offsetHeight < 45)") // no word is broken
		b.wait("the chart", "(i => i.complete && i.naturalWidth > 0)(document.querySelector('#days img'))")
		b.do(chromedp.Click(chromedp.Search("//*[@id='days']//button[text()='step 2']")))
		want(b, 2, "dryfit.scene.step")
	}
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	want(b, "true true", "`${document.getElementById('tab-plates').hidden} ${document.getElementById('tab-days').hidden}`")
}
