package printing

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan"
)

// A plate that ends at night waits until somebody can change it; the plan begins with
// the hours.
func TestHours(t *testing.T) {
	const h = time.Hour
	p := testPrinter("p", kits.Filament, geom.Vec{100, 100, 100})
	p.Hours, p.Change = [2]time.Duration{7 * h, 22 * h}, h/2
	for end, next := range map[time.Duration]time.Duration{
		10 * h: 10*h + h/2, 14*h + h/2: 15 * h, 15 * h: 24 * h, 23 * h: 24 * h, 24 * h: 24*h + h/2, 40 * h: 48 * h,
	} {
		if got := changed(p, end); got != next {
			t.Errorf("after a plate that ends at %v the next begins at %v, want %v", end, got, next)
		}
	}
	p.Hours = [2]time.Duration{}
	if got := changed(p, 23*h); got != 23*h+h/2 {
		t.Errorf("round the clock the next begins at %v", got)
	}
}

// No plate takes longer than the kit allows, but one with a single piece that does, which
// is told.
func TestLongestPlate(t *testing.T) {
	pla := &kits.Material{ID: "pla", Process: kits.Filament}
	kinds := []*kits.Printer{testPrinter("p", kits.Filament, geom.Vec{200, 200, 200})}
	kinds[0].Longest = 4 * time.Hour
	var jobs []*job
	for i := range 12 {
		jobs = append(jobs, boxJob(fmt.Sprint("piece-", i), 1, geom.Vec{30, 30, 30 + 5*float64(i)}, kinds, pla))
	}
	jobs = append(jobs, boxJob("block", 1, geom.Vec{100, 100, 100}, kinds, pla))
	for _, aim := range kitstest.Some(t, 2, []Aim{ForOrder, ForPlates, ForTime}) {
		plates := choose(t.Context(), kinds, nil, [][]*job{numbered(jobs)}, aim, 1)
		sound(t, plates, jobs)
		long := 0
		for _, p := range plates {
			if p.Takes.High > kinds[0].Longest {
				long++
				if len(p.Pieces) > 1 {
					t.Errorf("%s: plate %d of %d pieces takes %v", aim, p.Number, len(p.Pieces), p.Takes.High)
				}
			}
		}
		list := (&Plan{Plates: plates}).plateFindings()
		if long != 1 || len(list) != 1 || list[0].Grade != plan.Caution || !strings.Contains(list[0].Text, "longer than p allows") {
			t.Errorf("%s: %d plates take too long; findings %v", aim, long, list)
		}
	}
}

// A piece that fits only without the edge of the bed is turned inward if that helps, and
// else alone in the middle, with a caution.
func TestEdge(t *testing.T) {
	resin := &kits.Material{ID: "resin", Process: kits.Resin}
	kinds := []*kits.Printer{testPrinter("p", kits.Resin, geom.Vec{100, 60, 100})}
	kinds[0].Edge = 2
	jobs := numbered([]*job{boxJob("wide", 1, geom.Vec{99, 59, 5}, kinds, resin), boxJob("small", 1, geom.Vec{10, 10, 5}, kinds, resin)})
	for _, j := range jobs {
		j.facts.Of.Name = j.piece.ID
	}
	plates := choose(t.Context(), kinds, nil, [][]*job{jobs}, ForOrder, 1)
	if len(plates) != 2 || len(plates[0].Pieces) != 1 || plates[0].Pieces[0].X != 0.5 || plates[0].Pieces[0].Y != 0.5 {
		t.Fatalf("%d plates, the first with %v", len(plates), plates[0].Pieces)
	}
	wants(t, (&Plan{Plates: plates}).plateFindings(), plan.Caution, "wide comes nearer to the sides of the bed of p than its edge of 2 mm")

	rod := &kits.Part{ID: "rod", Printed: kits.Resin, Material: resin}
	f, s := settingOf(t, partOf(t, rod, meshtest.Box([3]float64{0, 0, 0}, [3]float64{100, 3, 3})), kinds[0])
	f.inward(s, kinds[0])
	if o, err := outlineOf(t.Context(), f.Surface, s.Turn, 0.5); err != nil || o.Size[0] > 96.001 || o.Size[1] > 56.001 {
		t.Errorf("a rod of 100 mm lies on %v of 96 x 56 mm: %v", o.Size, err)
	}
}
