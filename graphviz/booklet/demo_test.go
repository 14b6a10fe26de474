package booklet

import (
	"bytes"
	"context"
	"strings"
	"sync"
	"testing"

	"dryfit/graphviz/document"
	"dryfit/graphviz/document/documenttest"
	"dryfit/graphviz/draw"
	"dryfit/graphviz/words"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/project"
	"dryfit/plan/project/projecttest"
)

// demoKit is the booklet of the demonstration kit with its meshes, made once for all
// tests.
var demoKit = sync.OnceValues(func() (checked, error) {
	dir, err := projecttest.Folder()
	if err != nil {
		return checked{}, err
	}
	rep, err := project.Load(context.Background(), dir, project.Options{})
	if err != nil {
		return checked{}, err
	}
	o := Options{Language: words.Language{Tag: "en"}, Cache: draw.NewCache()}
	made, err := Make(context.Background(), rep, o)
	return checked{rep, rep.Meshes.All(), made}, err
})

type checked struct {
	rep    *plan.Project
	meshes []*mesh.Mesh
	made   *Made
}

func demonstration(t testing.TB) checked {
	t.Helper()
	if testing.Short() {
		t.Skip("measures the demonstration kit; not in short runs")
	}
	d, err := demoKit()
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// again makes the booklet once more, with the pictures there are.
func again(t *testing.T, d checked, tag string) *Made {
	t.Helper()
	data, err := d.made.Cache.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	cache, err := draw.ReadCache(data)
	if err != nil {
		t.Fatal(err)
	}
	made, err := Make(context.Background(), d.rep, Options{Language: words.Language{Tag: tag}, Cache: cache})
	if err != nil {
		t.Fatal(err)
	}
	return made
}

// TestDemoKeepsTheRules: no rule is broken in the booklet of the demonstration kit.
func TestDemoKeepsTheRules(t *testing.T) {
	for _, v := range demonstration(t).made.Check() {
		if v.Result == Fails {
			t.Errorf("%s: %s", v.Rule, strings.Join(v.Found, "; "))
		}
	}
}

// TestEachPieceInOneStep counts by the kit, not by the booklet's own lists.
func TestEachPieceInOneStep(t *testing.T) {
	d := demonstration(t)
	shown := map[string]int{}
	for _, c := range d.made.Book.Chapters {
		for _, b := range c.Blocks {
			if s, ok := b.(document.Step); ok {
				for _, item := range s.Needs {
					shown[item.Ref] += item.Count
				}
			}
		}
	}
	bases := 0
	for _, p := range d.rep.Kit.Parts {
		if !p.InModel() {
			continue
		}
		missing := p.Quantity - shown[p.Number]
		for _, piece := range d.rep.Kit.Copies(p) {
			if d.rep.Kit.Fitted(piece) == nil {
				missing--
				bases++
			}
		}
		if missing != 0 {
			t.Errorf("%s: %d in the kit, %d in the steps", p.ID, p.Quantity, shown[p.Number])
		}
	}
	if bases != 2 {
		t.Errorf("%d bases, not the two hull halves", bases)
	}
}

// TestArrowsAreProven: each arrow is the direction that the meshes leave free, and no
// piece with a mesh travels without one.
func TestArrowsAreProven(t *testing.T) {
	d := demonstration(t)
	for _, p := range d.made.Pictures {
		s := d.rep.Constraints.Steps[p.Step]
		if s.Join == nil {
			continue
		}
		toward := d.rep.Constraints.Toward(p.Step)
		if toward == nil || len(p.Arrows) == 0 {
			t.Errorf("step %d: no direction", d.rep.Sequence.Place[p.Step])
			continue
		}
		last := p.Arrows[len(p.Arrows)-1]
		for k := range 3 {
			if diff := last[k] - toward[k]; diff > 1e-9 || diff < -1e-9 {
				t.Errorf("step %d: the arrow is %v, proven is %v", d.rep.Sequence.Place[p.Step], last, *toward)
			}
		}
	}
}

// TestSeatsAreSeen: in at least nine pictures of ten a fifth of the seat is not hidden,
// counted in the pixels of the picture, and what is new in all of them.
func TestSeatsAreSeen(t *testing.T) {
	d := demonstration(t)
	seen := 0
	for _, p := range d.made.Pictures {
		if p.Seat >= draw.LeastSeat {
			seen++
		}
		if p.New < draw.LeastSeat {
			t.Errorf("step %d: only %.0f %% of what is new can be seen", d.rep.Sequence.Place[p.Step], 100*p.New)
		}
	}
	if share := float64(seen) / float64(len(d.made.Pictures)); share < 0.9 {
		t.Errorf("the seat is seen in %.1f %% of the pictures", 100*share)
	}
}

func TestDemoPageIsSound(t *testing.T) {
	if _, faults := documenttest.CheckPage(set(t, demonstration(t).made.Book)); len(faults) > 0 {
		t.Error(strings.Join(faults, "\n"))
	}
}

func TestDemoPDFIsClean(t *testing.T) {
	data := setPDF(t, demonstration(t).made.Book)
	if out, ran := documenttest.RunOn(t, data, "qpdf", "--check", "FILE"); ran && !strings.Contains(out, "No syntax or stream encoding errors found") {
		t.Error(out)
	}
	text, ran := documenttest.RunOn(t, data, "pdftotext", "-layout", "FILE", "-")
	if !ran {
		return
	}
	at := -1
	for _, want := range []string{"Skerrivane R.2", "WARNING", "Parts list", "Paint list", "Fit Port side console C02P to Cockpit floor C01.", "LAST CALL", "Fit Winch hook X11"} {
		next := strings.Index(text[at+1:], want)
		if next < 0 {
			t.Errorf("%q does not come after what stands before it", want)
			continue
		}
		at += 1 + next
	}
}

// TestBookletTwiceTheSame: pictures that were kept give the same bytes as new ones.
func TestBookletTwiceTheSame(t *testing.T) {
	d := demonstration(t)
	second := again(t, d, "en")
	if second.Cache.Changed() {
		t.Error("pictures were made although all had been kept")
	}
	if !bytes.Equal(set(t, d.made.Book), set(t, second.Book)) {
		t.Error("the page is another")
	}
	if !bytes.Equal(setPDF(t, d.made.Book), setPDF(t, second.Book)) {
		t.Error("the PDF is another")
	}
	if !kitstest.Full() {
		t.Log("shortened: no pictures are made anew; CI=true makes them")
		return
	}
	fresh, err := Make(context.Background(), d.rep, Options{Language: words.Language{Tag: "en"}})
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(set(t, d.made.Book), set(t, fresh.Book)) {
		t.Error("the page with new pictures is another")
	}
}

// TestEveryLanguage: the booklet is whole in each language, and keeps the same rules.
func TestEveryLanguage(t *testing.T) {
	d := demonstration(t)
	english, _ := documenttest.CheckPage(set(t, d.made.Book))
	for _, tag := range words.Languages()[1:] {
		made := again(t, d, tag)
		texts, faults := documenttest.CheckPage(set(t, made.Book))
		if len(faults) > 0 {
			t.Errorf("%s: %s", tag, strings.Join(faults, "\n"))
		}
		if len(texts) != len(english) {
			t.Errorf("%s: %d texts, English has %d", tag, len(texts), len(english))
		}
		for _, v := range made.Check() {
			if v.Result == Fails && v.Level == Error {
				t.Errorf("%s: %s: %s", tag, v.Rule, strings.Join(v.Found, "; "))
			}
		}
	}
}

func BenchmarkDemonstrationBooklet(b *testing.B) {
	d, err := demoKit()
	if err != nil {
		b.Fatal(err)
	}
	kept, err := d.made.Cache.Bytes()
	if err != nil {
		b.Fatal(err)
	}
	run := func(cache func() *draw.Cache) func(*testing.B) {
		return func(b *testing.B) {
			for b.Loop() {
				made, err := Make(context.Background(), d.rep, Options{Language: words.Language{Tag: "en"}, Cache: cache()})
				if err != nil {
					b.Fatal(err)
				}
				if _, err := made.Book.HTML(); err != nil {
					b.Fatal(err)
				}
				if _, err := made.Book.PDF(); err != nil {
					b.Fatal(err)
				}
			}
		}
	}
	b.Run("cold", run(draw.NewCache))
	b.Run("warm", run(func() *draw.Cache {
		a, err := draw.ReadCache(kept)
		if err != nil {
			b.Fatal(err)
		}
		return a
	}))
}
