package printing

import (
	"fmt"
	"math"
	"math/rand"
	"reflect"
	"testing"
	"time"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
)

// randomJobs are pieces of random sizes and needs for random printers.
func randomJobs(rng *rand.Rand) ([]*kits.Printer, []*job) {
	materials := []*kits.Material{{ID: "resin", Process: kits.Resin}, {ID: "clear", Process: kits.Resin}, {ID: "pla", Process: kits.Filament}}
	kinds := []*kits.Printer{testPrinter("a", kits.Resin, geom.Vec{150, 90, 160}), testPrinter("b", kits.Filament, geom.Vec{200, 200, 200})}
	if rng.Intn(2) == 0 {
		kinds = append(kinds, testPrinter("c", kits.Resin, geom.Vec{210, 140, 230}), testPrinter("d", kits.Filament, geom.Vec{240, 230, 220}))
	}
	for _, p := range kinds {
		p.Count = 1 + rng.Intn(3)
		p.Margin = float64(rng.Intn(6))
	}
	var jobs []*job
	for i := range 1 + rng.Intn(150) {
		need := 1 + i
		if rng.Intn(10) == 0 {
			need = NoStep
		}
		size := geom.Vec{3 + 80*rng.Float64()*rng.Float64(), 3 + 80*rng.Float64()*rng.Float64(), 2 + 80*rng.Float64()}
		jobs = append(jobs, boxJob(fmt.Sprint("piece-", i), need, size, kinds, materials[rng.Intn(3)]))
	}
	return kinds, jobs
}

// Every piece is on one plate, of its material and on a printer of its process; plates
// hold no overlaps; a printer does one plate after the other, with the change between,
// and does not wait without a reason.
func TestPlatesProperty(t *testing.T) {
	rng := rand.New(rand.NewSource(12))
	var fill, bound float64
	rounds := kitstest.Rounds(t, 60, 10)
	for range rounds {
		kinds, jobs := randomJobs(rng)
		plates := choose(t.Context(), kinds, nil, [][]*job{numbered(jobs)}, ForOrder, 1)
		sound(t, plates, jobs)
		made := map[string]*kits.Material{}
		for _, j := range jobs {
			made[j.piece.ID] = j.made[0]
		}
		type machine struct {
			id   string
			unit int
		}
		free := map[machine]Band{}
		area := map[*kits.Material]float64{}
		for _, p := range plates {
			m := machine{p.Printer.ID, p.Unit}
			if p.Begins != free[m] || p.Unit > p.Printer.Count {
				t.Fatalf("plate %d begins at %v on %v, which is free at %v", p.Number, p.Begins, m, free[m])
			}
			if p.Ends != p.Begins.Plus(p.Takes) || p.Takes.Low > p.Takes.High {
				t.Fatalf("plate %d takes %v, from %v to %v", p.Number, p.Takes, p.Begins, p.Ends)
			}
			free[m] = p.Ends.Plus(Band{p.Printer.Change, p.Printer.Change})
			tallest := time.Duration(0)
			for _, x := range p.Pieces {
				if made[x.Piece.ID] != p.Material || p.Material.Process != p.Printer.Process {
					t.Fatalf("%s is printed of %s on %s", x.Piece.ID, p.Material.ID, p.Printer.ID)
				}
				w, d := x.Box()
				area[p.Material] += (w + p.Printer.Margin) * (d + p.Printer.Margin)
				tallest = max(tallest, resinTime(p.Printer, x.Setting.Size[2]))
			}
			if p.Printer.Process == kits.Resin && p.Takes.High != tallest {
				t.Fatalf("a resin plate takes %v, its tallest piece %v", p.Takes, tallest)
			}
		}
		if len(kinds) == 2 {
			fill += float64(len(plates))
			for m, a := range area {
				p := kinds[0]
				if m.Process == kits.Filament {
					p = kinds[1]
				}
				bound += math.Ceil(a / ((p.Volume[0] + p.Margin) * (p.Volume[1] + p.Margin)))
			}
		}
	}
	t.Logf("%.0f plates where the area alone asks for %.0f", fill, bound)
	if fill > 1.25*bound {
		t.Errorf("%.0f plates where the area alone asks for %.0f", fill, bound)
	}
}

// The same request gives the same plan.
func TestPlanIsTheSameEachTime(t *testing.T) {
	var last *Plan
	for range 2 {
		p, err := Make(t.Context(), manyParts(t, 60))
		if err != nil {
			t.Fatal(err)
		}
		if last != nil && !reflect.DeepEqual(brief(last), brief(p)) {
			t.Error("two plans of one request differ")
		}
		last = p
	}
}

func brief(p *Plan) []string {
	var list []string
	for _, plate := range p.Plates {
		list = append(list, fmt.Sprint(plate.Number, plate.Printer.ID, plate.Unit, plate.Ends))
		for _, x := range plate.Pieces {
			list = append(list, fmt.Sprint(x.Piece, x.X, x.Y, x.Quarters, x.Setting.Turn))
		}
	}
	return list
}

// What is needed first is on the first plate, with what rides along; of two printers of a
// kind both are used.
func TestNeededFirstIsPrintedFirst(t *testing.T) {
	pla := &kits.Material{ID: "pla", Process: kits.Filament}
	kinds := []*kits.Printer{testPrinter("p", kits.Filament, geom.Vec{100, 100, 100})}
	kinds[0].Margin = 0
	var jobs []*job
	for i := range 8 { // four to a plate
		jobs = append(jobs, boxJob(fmt.Sprint("piece-", i), i+1, geom.Vec{50, 50, 10}, kinds, pla))
	}
	plates := choose(t.Context(), kinds, nil, [][]*job{numbered(jobs)}, ForOrder, 1)
	if len(plates) != 2 {
		t.Fatalf("%d plates, want 2", len(plates))
	}
	for i, p := range plates {
		for _, x := range p.Pieces {
			if x.Piece.Need <= 4 != (i == 0) {
				t.Errorf("%s is on plate %d", x.Piece.ID, p.Number)
			}
		}
	}
	kinds[0].Count = 2
	plates = choose(t.Context(), kinds, nil, [][]*job{numbered(jobs)}, ForOrder, 1)
	if len(plates) != 2 || plates[1].Unit != 2 || plates[1].Begins != (Band{}) {
		t.Errorf("two printers: plate 2 of %d is on no. %d from %v", len(plates), plates[1].Unit, plates[1].Begins)
	}
}

// On resin, where a plate takes as long as its tallest piece, like heights go together
// when all is needed at once: two plates of 40 and 10 mm, not two of 40.
func TestLikeHeightsTogether(t *testing.T) {
	resin := &kits.Material{ID: "resin", Process: kits.Resin}
	kinds := []*kits.Printer{testPrinter("p", kits.Resin, geom.Vec{100, 100, 100})}
	kinds[0].Margin = 0
	var jobs []*job
	for i := range 8 {
		jobs = append(jobs, boxJob(fmt.Sprint("piece-", i), 1, geom.Vec{50, 50, []float64{10, 40}[i%2]}, kinds, resin))
	}
	plates := choose(t.Context(), kinds, nil, [][]*job{numbered(jobs)}, ForOrder, 1)
	if len(plates) != 2 || plates[0].Height() == plates[1].Height() {
		t.Errorf("%d plates, of %g and %g mm", len(plates), plates[0].Height(), plates[1].Height())
	}
}
