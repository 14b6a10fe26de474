package printing

import (
	"cmp"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/printing/printingtest"
)

// randomOutline makes a random outline as kits have them: boxes, wedges, angles, channels,
// frames, rings, crosses and cut bottles.
func randomOutline(rng *rand.Rand) (outer [][2]float64, holes [][][2]float64) {
	w, d := 8+70*rng.Float64()*rng.Float64(), 8+70*rng.Float64()*rng.Float64()
	t := (0.15 + 0.2*rng.Float64()) * min(w, d)
	switch rng.Intn(8) {
	case 0:
		return [][2]float64{{0, 0}, {w, 0}, {w, d}, {0, d}}, nil
	case 1:
		return [][2]float64{{0, 0}, {w, 0}, {w * rng.Float64(), d}}, nil
	case 2:
		return [][2]float64{{0, 0}, {w, 0}, {w, t}, {t, t}, {t, d}, {0, d}}, nil
	case 3:
		return [][2]float64{{0, 0}, {w, 0}, {w, d}, {w - t, d}, {w - t, t}, {t, t}, {t, d}, {0, d}}, nil
	case 4:
		return [][2]float64{{0, 0}, {w, 0}, {w, d}, {0, d}}, [][][2]float64{{{t, t}, {w - t, t}, {w - t, d - t}, {t, d - t}}}
	case 5:
		r := w / 2
		return meshtest.Circle([2]float64{r, r}, r, 40), [][][2]float64{meshtest.Circle([2]float64{r, r}, 0.75*r, 40)}
	case 6:
		a, b := w/2, d/2
		return [][2]float64{{a - t, 0}, {a + t, 0}, {a + t, b - t}, {w, b - t}, {w, b + t}, {a + t, b + t}, {a + t, d}, {a - t, d}, {a - t, b + t}, {0, b + t}, {0, b - t}, {a - t, b - t}}, nil
	}
	return [][2]float64{{0, 0}, {w, 0}, {w, d / 2}, {w * 0.6, d * 0.6}, {w * 0.6, d}, {w * 0.4, d}, {w * 0.4, d * 0.6}, {0, d / 2}}, nil
}

// outlineJobs are pieces with random outlines, and their solids as modelled.
func outlineJobs(t testing.TB, rng *rand.Rand, n int, p *kits.Printer, m *kits.Material) ([]*job, map[string][]mesh.Triangle) {
	solids := map[string][]mesh.Triangle{}
	var jobs []*job
	for i := range n {
		outer, holes := randomOutline(rng)
		solid := meshtest.Extrude(outer, holes, 0, 5+10*rng.Float64())
		part := partOf(t, &kits.Part{ID: fmt.Sprint("piece-", i), Printed: m.Process, Material: m}, solid)
		o, err := outlineOf(t.Context(), part.Surface, asModelled, cellOf(gap(p)))
		if err != nil {
			t.Fatal(err)
		}
		o.grow = gap(p)
		s := &Setting{Turn: asModelled, Size: o.Size, Outline: o, Time: Band{resinTime(p, o.Size[2]), resinTime(p, o.Size[2])}}
		jobs = append(jobs, &job{facts: &facts{Part: part}, piece: Piece{ID: part.Of.ID, Need: 1}, on: []*Setting{s}, made: []*kits.Material{m}})
		solids[part.Of.ID] = solid
	}
	return numbered(jobs), solids
}

// soundOutlines checks plates by the triangles of their pieces: outlines keep the gap
// from one another, and the edge of the bed; each piece is printed once.
func soundOutlines(t *testing.T, plates []*Plate, solids map[string][]mesh.Triangle) {
	t.Helper()
	printed := 0
	for _, p := range plates {
		var all [][]mesh.Triangle
		for _, x := range p.Pieces {
			move := x.Transform()
			var placed []mesh.Triangle
			for _, tr := range solids[x.Piece.ID] {
				for k := range tr {
					tr[k] = move.Apply(geom.Point(tr[k])).Single()
				}
				placed = append(placed, tr)
			}
			low, high := printingtest.Around(placed)
			edge := p.Printer.Edge + p.Printer.Border - 1.1*spareRoom
			if min(low[0], low[1]) < edge || high[0] > p.Printer.Volume[0]-edge || high[1] > p.Printer.Volume[1]-edge || math.Abs(low[2]) > 1e-4 {
				t.Fatalf("plate %d: %s reaches from %v to %v", p.Number, x.Piece.ID, low, high)
			}
			for n, o := range all {
				if apart := printingtest.Apart(placed, o, gap(p.Printer)); apart < gap(p.Printer)-1e-3 {
					t.Fatalf("plate %d: %s and %s are %.3f mm apart, less than %g", p.Number, x.Piece.ID, p.Pieces[n].Piece.ID, apart, gap(p.Printer))
				}
			}
			all = append(all, placed)
			printed++
		}
	}
	if printed != len(solids) {
		t.Fatalf("%d of %d pieces are on plates", printed, len(solids))
	}
}

// Outlines never overlap, whatever the printer, its edge, its margin and the room for a
// raft, and for every aim.
func TestOutlinesProperty(t *testing.T) {
	rng := rand.New(rand.NewSource(31))
	for round := range kitstest.Rounds(t, 30, 8) {
		p := testPrinter("p", kits.Resin, geom.Vec{110 + 100*rng.Float64(), 90 + 60*rng.Float64(), 160})
		p.Margin, p.Edge, p.Border = 6*rng.Float64(), 4*rng.Float64(), float64(rng.Intn(2))*2*rng.Float64()
		jobs, solids := outlineJobs(t, rng, 5+rng.Intn(60), p, &kits.Material{ID: "resin", Process: kits.Resin})
		aim := Aim(Aims[round%len(Aims)])
		soundOutlines(t, choose(t.Context(), []*kits.Printer{p}, nil, [][]*job{jobs}, aim, 1), solids)
	}
}

// Outlines lie in the holes of others: rings within one another take one plate.
func TestHolesAreUsed(t *testing.T) {
	p := testPrinter("p", kits.Resin, geom.Vec{104, 104, 100})
	p.Edge = 2
	m := &kits.Material{ID: "resin", Process: kits.Resin}
	var jobs []*job
	solids := map[string][]mesh.Triangle{}
	for i, r := range []float64{50, 41, 32, 23, 14} {
		solid := meshtest.Tube(r, r-5, 0, 5, 64)
		part := partOf(t, &kits.Part{ID: fmt.Sprint("ring-", i), Printed: kits.Resin, Material: m}, solid)
		o, err := outlineOf(t.Context(), part.Surface, asModelled, cellOf(gap(p)))
		if err != nil {
			t.Fatal(err)
		}
		o.grow = gap(p)
		jobs = append(jobs, &job{facts: &facts{Part: part}, piece: Piece{ID: part.Of.ID, Need: 1}, on: []*Setting{{Turn: asModelled, Size: o.Size, Outline: o}}, made: []*kits.Material{m}})
		solids[part.Of.ID] = solid
	}
	plates := choose(t.Context(), []*kits.Printer{p}, nil, [][]*job{numbered(jobs)}, ForPlates, 1)
	soundOutlines(t, plates, solids)
	if len(plates) != 1 {
		t.Errorf("rings within one another are on %d plates", len(plates))
	}
}

// leftmost packs boxes: the largest first, each on the first plate that has room, as far
// to the front and then to the left as it goes, straight or turned by a right angle. It
// takes the best of three ways to sort them.
func leftmost(p *kits.Printer, sizes []geom.Vec) int {
	fewest := len(sizes)
	for _, by := range []func(geom.Vec) float64{
		func(s geom.Vec) float64 { return s[0] * s[1] },
		func(s geom.Vec) float64 { return max(s[0], s[1]) },
		func(s geom.Vec) float64 { return s[1] },
	} {
		list := slices.Clone(sizes)
		slices.SortStableFunc(list, func(a, b geom.Vec) int { return cmp.Compare(by(b), by(a)) })
		var plates [][]rect
		for _, s := range list {
			placed := false
			for i := range plates {
				if r, ok := lowestPlace(p, plates[i], s); ok {
					plates[i], placed = append(plates[i], r), true
					break
				}
			}
			if !placed {
				r, _ := lowestPlace(p, nil, s)
				plates = append(plates, []rect{r})
			}
		}
		fewest = min(fewest, len(plates))
	}
	return fewest
}

func lowestPlace(p *kits.Printer, on []rect, s geom.Vec) (best rect, ok bool) {
	for _, size := range [][2]float64{{s[0], s[1]}, {s[1], s[0]}} {
		xs, ys := []float64{p.Edge}, []float64{p.Edge}
		for _, r := range on {
			xs, ys = append(xs, r.x+r.w+p.Margin), append(ys, r.y+r.d+p.Margin)
		}
		for _, y := range ys {
			for _, x := range xs {
				r := rect{x, y, size[0], size[1]}
				if x+r.w > p.Volume[0]-p.Edge || y+r.d > p.Volume[1]-p.Edge || ok && (y > best.y || y == best.y && x >= best.x) {
					continue
				}
				if !slices.ContainsFunc(on, func(o rect) bool {
					return r.x < o.x+o.w+p.Margin-hair && o.x < r.x+r.w+p.Margin-hair && r.y < o.y+o.d+p.Margin-hair && o.y < r.y+r.d+p.Margin-hair
				}) {
					best, ok = r, true
				}
			}
		}
	}
	return best, ok
}

// On sets of outlines fewer plates are taken than by packing boxes to the left, never
// more.
func TestOutlinesAgainstBoxes(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	ours, boxes := 0, 0
	for round := range kitstest.Rounds(t, 30, 3) {
		p := testPrinter("p", kits.Resin, geom.Vec{150, 90, 160})
		p.Edge = 2
		jobs, solids := outlineJobs(t, rng, 40+rng.Intn(80), p, &kits.Material{ID: "resin", Process: kits.Resin})
		var sizes []geom.Vec
		for _, j := range jobs {
			sizes = append(sizes, j.on[0].Size)
		}
		plates := choose(t.Context(), []*kits.Printer{p}, nil, [][]*job{jobs}, ForPlates, 1)
		soundOutlines(t, plates, solids)
		plain := leftmost(p, sizes)
		if len(plates) > plain {
			t.Errorf("round %d: %d plates, and %d for their boxes", round, len(plates), plain)
		}
		ours, boxes = ours+len(plates), boxes+plain
	}
	fewer := 100 * float64(boxes-ours) / float64(boxes)
	t.Logf("%d plates, and %d for their boxes: %.1f %% fewer", ours, boxes, fewer)
	if fewer < 15 {
		t.Errorf("%.1f %% fewer plates than for their boxes, want 15", fewer)
	}
}
