package page

import (
	"context"
	"errors"
	"io"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"

	"github.com/chromedp/chromedp"

	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/survey"
)

// maker makes things that tell what they are, and counts how often it is asked.
func maker(asked *atomic.Int32) Maker {
	const svg = `<svg xmlns="http://www.w3.org/2000/svg" role="img" viewBox="0 0 40 30"><title>%</title></svg>`
	return Maker{
		Pictures: func(context.Context, *plan.Report, []*mesh.Mesh) (map[int][]byte, error) {
			asked.Add(1)
			return map[int][]byte{2: []byte(strings.ReplaceAll(svg, "%", "two"))}, nil
		},
		Plates: func(_ context.Context, rep *plan.Report, _ *survey.Survey) (*Plates, error) {
			asked.Add(1)
			return &Plates{Says: "4 pieces on 2 plates.",
				Findings: []plan.Finding{{Kind: "printing", Grade: plan.Note, Text: rep.Kit.File + ": a word on printing"}},
				List: []Plate{
					{"Plate 1: red on desk", "2 pieces, 3 h", []Printed{{"Red gem", []string{"gem"}}, {"Jig", []string{"jig"}}}, []byte(strings.ReplaceAll(svg, "%", "plate one"))},
					{"Plate 2: grey on desk", "2 pieces, 5 h", []Printed{{"Lid of the box", []string{"lid"}}}, []byte(strings.ReplaceAll(svg, "%", "plate two"))},
				}}, nil
		},
		Days: func(*plan.Report) (*Days, error) {
			asked.Add(1)
			return &Days{"Done on day 2.", []Day{{1, []TimedStep{{1, "0:00", "5 min", "24 h", true}}}, {2, []TimedStep{{2, "0:00", "5 min", "", false}}}}, true, []byte(strings.ReplaceAll(svg, "%", "chart"))}, nil
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

// TestExtras: each thing is made once, when it is first asked for; what there is not is
// not found, nor a name that is none.
func TestExtras(t *testing.T) {
	rep, measured, err := timedChest(t).check(t.Context(), nil)
	if err != nil {
		t.Fatal(err)
	}
	var asked atomic.Int32
	e := newExtras(t.Context(), maker(&asked), rep, measured)
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
	none := newExtras(t.Context(), Maker{}, rep, measured)
	bad := errors.New("no")
	broken := newExtras(t.Context(), Maker{
		Pictures: func(context.Context, *plan.Report, []*mesh.Mesh) (map[int][]byte, error) { return nil, bad },
		Plates:   func(context.Context, *plan.Report, *survey.Survey) (*Plates, error) { return nil, bad },
		Days:     func(*plan.Report) (*Days, error) { return nil, bad },
	}, rep, measured)
	for _, name := range []string{"picture/2.svg", "plates.json", "plate/1.svg", "days.json", "days.svg"} {
		if data, err := none.file(name); data != nil || err != nil {
			t.Errorf("%s without a maker: %q, %v", name, data, err)
		}
		if _, err := broken.file(name); !errors.Is(err, bad) {
			t.Errorf("%s: the error is %v", name, err)
		}
	}
}

// TestExtrasServed: what there is comes with its kind; all else is not found.
func TestExtrasServed(t *testing.T) {
	f := timedChest(t)
	s := NewServer(f.check, f.watched, f)
	var asked atomic.Int32
	s.Make(maker(&asked))
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
	if got := string(Standalone([]byte(`<svg role="img"></svg>`))); !strings.HasPrefix(got, pictureStart) || !Ours([]byte(got)) {
		t.Error(got)
	}
}

// TestPlanning: plates and days are planned when their list is opened, lead to pieces
// and steps, and have their drawings; from a server and from disk alike. A kit that has
// neither shows neither.
func TestPlanning(t *testing.T) {
	f := timedChest(t)
	var asked atomic.Int32
	s := NewServer(f.check, f.watched, f)
	s.Make(maker(&asked))
	for _, page := range []string{serveThis(t, s), exportedPage(t, f, maker(new(atomic.Int32)))} {
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
		b.wait("the chart", "(i => i.complete && i.naturalWidth > 0)(document.querySelector('#days img'))")
		b.do(chromedp.Click(chromedp.Search("//*[@id='days']//button[text()='step 2']")))
		want(b, 2, "dryfit.scene.step")
	}
	b := newTab(t, 1000, 700)
	b.open(serve(t, chest(t, "")))
	want(b, "true true", "`${document.getElementById('tab-plates').hidden} ${document.getElementById('tab-days').hidden}`")
}
