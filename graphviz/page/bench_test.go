package page

import (
	"context"
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
	"dryfit/plan/explain"
)

// BenchmarkRefresh is what a saved change of the demonstration kit's file costs until
// the page can ask for it.
func BenchmarkRefresh(b *testing.B) {
	f := demoKit(b)
	var s state
	s.refresh(b.Context(), f.check, always, func() {})
	for b.Loop() {
		s.refresh(b.Context(), f.check, always, func() {})
	}
	b.ReportMetric(float64(len(s.now.model))/1000, "kB-of-model")
}

// BenchmarkShapes is what the shapes of the demonstration kit cost the first time.
func BenchmarkShapes(b *testing.B) {
	rep, err := demoKit(b).check(b.Context(), nil)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, _, err := build(rep, rep.Meshes.All(), nil); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkFirstPicture is the time from a start of the server until the demonstration
// kit is drawn, measured before, in a browser that runs.
func BenchmarkFirstPicture(b *testing.B) {
	f := demoKit(b)
	newTab(b, 1000, 700).close() // starts the browser
	for b.Loop() {
		page, _ := serveWith(b, f.server(Maker{}))
		p := newTab(b, 1000, 700)
		p.openFirst(page)
	}
}

// openFirst opens a page and waits until its first model is drawn.
func (b *tab) openFirst(page string) {
	b.t.Cleanup(b.close)
	b.do(chromedp.Navigate(page))
	b.run("await new Promise(done => { if (dryfit.model.kit) done(); else dryfit.on('drawn', () => dryfit.model.kit && done()) })")
}

// BenchmarkTurning is what the browser shows at 800 x 600 while the model turns, and a
// frame at rest, drawn by the processor: the demonstration kit has 300,000 triangles; 3
// million are a kit of ten rings.
func BenchmarkTurning(b *testing.B) {
	for _, c := range []struct {
		name string
		load loadFunc
	}{{"demo", demoKit(b).check}, {"3 million", rings}} {
		s := folder(b.TempDir()).server(Maker{})
		s.load = c.load
		page, _ := serveWith(b, s)
		p := newTab(b, 1000, 800)
		p.openFirst(page)
		p.run("Object.assign(document.getElementById('view').style, { position: 'fixed', width: '802px', height: '602px' })")
		p.settle()
		p.run("dryfit.fit()")
		b.Run(c.name+"/turning", func(b *testing.B) {
			for b.Loop() {
				b.ReportMetric(js[float64](p, turnOnScreen), "frames/s")
			}
			b.ReportMetric(js[float64](p, "[...dryfit.shapes.values()].reduce((n, s) => n + s.coarse.length / 3, 0)"), "triangles")
		})
		p.settle()
		b.Run(c.name+"/at rest", func(b *testing.B) {
			for b.Loop() {
				p.run("dryfit.gl.frame(false, true)")
			}
			b.ReportMetric(js[float64](p, "[...dryfit.shapes.values()].reduce((n, s) => n + s.fine.length / 3, 0)"), "triangles")
			b.ReportMetric(js[float64](p, "[...dryfit.shapes.values()].reduce((n, s) => n + s.edges.length / 2, 0)"), "edges")
		})
	}
}

// turnOnScreen turns the model as a hand does, for three seconds, and counts the frames
// that the browser shows in a second.
const turnOnScreen = `new Promise(done => {
	let n = 0, began = 0;
	const turn = now => {
		began ||= now;
		if (now - began > 3000) return done(n / (now - began) * 1000);
		n++;
		dryfit.camera.turn(3, 0);
		requestAnimationFrame(turn);
	};
	requestAnimationFrame(turn);
})`

// rings is a kit of ten rings with 300,000 triangles each, not measured.
func rings(context.Context, func([]*mesh.Mesh)) (*plan.Project, error) {
	text := "kit: Rings\nscale: \"1:32\"\nparts:\n"
	joins := "joins:\n"
	var meshes []*mesh.Mesh
	for i := range 10 {
		text += fmt.Sprintf("  ring-%d: {printed: resin}\n", i)
		if i > 0 {
			joins += fmt.Sprintf("  - {fit: ring-%d, to: ring-%d}\n", i, i-1)
		}
		list := meshtest.Transform(meshtest.Torus(40, 9, 600, 250), meshtest.Identity, [3]float64{0, 0, 20 * float64(i)}, 1)
		m, err := mesh.FromTriangles(fmt.Sprint("ring-", i), list)
		if err != nil {
			return nil, err
		}
		meshes = append(meshes, m)
	}
	kit, err := kits.Read("kit.yaml", []byte(text+joins))
	if err != nil {
		return nil, err
	}
	rep, err := explain.Check(kit)
	if err == nil {
		rep.Meshes = &mesh.Collection{Pieces: meshes}
	}
	return rep, err
}
