package printing

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh/meshtest"
	"dryfit/kits/progress"
)

// filed is a plan's plates as the progress file has them, to a thousandth.
func filed(p *Plan) []progress.Plate {
	list := p.Keep()
	for _, plate := range list {
		for _, x := range plate.Pieces {
			x.X, x.Y = geom.Round(x.X, 3), geom.Round(x.Y, 3)
		}
	}
	return list
}

// Plates that are kept stay as they are, whatever is printed of the others and whatever
// the aim is now; with their number, printer and places.
func TestKeptPlatesStay(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	for aim, next := range map[Aim]Aim{ForOrder: ForPlates, ForPlates: ForOrder, ForTime: ForPlates} {
		r := manyParts(t, 30)
		panel := partOf(t, &kits.Part{ID: "panel", Printed: kits.Resin, Material: r.Materials[0]}, meshtest.Box([3]float64{}, [3]float64{60, 50, 4}))
		panel.Pieces = nil
		for n := range 40 { // they lie one by one, or stand side by side
			panel.Pieces = append(panel.Pieces, Piece{ID: fmt.Sprint("panel.", n+1), Need: n})
		}
		r.Parts = append(r.Parts, panel)
		r.NoLayers, r.Aim = true, aim
		before, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if roomy := slices.ContainsFunc(before.Plates, func(p *Plate) bool { return p.Room > 1 }); roomy != (aim != ForOrder) {
			t.Errorf("%s: plates on which room counts more: %v", aim, roomy)
		}
		was := map[int][]string{}
		r.First, r.Aim = len(before.Plates)+1, next
		gone, turns := map[string]bool{}, map[string]Turn{}
		for _, p := range before.Plates {
			for _, x := range p.Pieces {
				turns[x.Piece.ID] = x.Setting.Turn
			}
		}
		for _, k := range filed(before) {
			if rng.Intn(3) == 0 { // printed
				for _, x := range k.Pieces {
					gone[x.ID] = true
				}
				continue
			}
			for _, x := range k.Pieces {
				was[k.Number] = append(was[k.Number], fmt.Sprintf("%s %.2f %.2f %g", x.ID, x.X, x.Y, x.Turned))
			}
			r.Kept = append(r.Kept, k)
		}
		for _, p := range r.Parts {
			var left []Piece
			for _, pc := range p.Pieces {
				if !gone[pc.ID] {
					left = append(left, pc)
				}
			}
			p.Pieces = left
		}
		after, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if len(after.Plates) != len(was) || after.Kept != len(was) || len(after.GivenUp) > 0 {
			t.Errorf("%d plates, %d kept, %v given up; want %d kept", len(after.Plates), after.Kept, after.GivenUp, len(was))
		}
		for _, p := range after.Plates {
			var now []string
			for _, x := range p.Pieces {
				now = append(now, fmt.Sprintf("%s %.2f %.2f %d", x.Piece.ID, x.X, x.Y, 90*x.Quarters))
				if turn := turns[x.Piece.ID]; turn != x.Setting.Turn {
					t.Errorf("%s is turned by %v, was by %v", x.Piece.ID, x.Setting.Turn, turn)
				}
			}
			if fmt.Sprint(now) != fmt.Sprint(was[p.Number]) {
				t.Errorf("plate %d was\n%v, is\n%v", p.Number, was[p.Number], now)
			}
		}
	}
}

// A bed is made only for kept plates whose pieces are still to be printed, so that a long
// list of others costs little.
func TestKeptPlatesCost(t *testing.T) {
	r := manyParts(t, 1)
	for i := range 10000 {
		r.Kept = append(r.Kept, progress.Plate{Number: i + 1, On: r.Printers[0].ID, Pieces: []*progress.OnPlate{{ID: "gone"}}})
	}
	var given []int
	allocations := testing.AllocsPerRun(1, func() { _, _, given, _ = hold(t.Context(), &r, nil) })
	if len(given) != 10000 || allocations > 100 {
		t.Errorf("%d plates given up, %g allocations for it", len(given), allocations)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, _, _, err := hold(over, &r, nil); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// A kept plate on which pieces would overlap, or that is on a printer that is gone, is
// given up; its pieces are on new plates, with new numbers.
func TestKeptPlatesGivenUp(t *testing.T) {
	r := manyParts(t, 12)
	r.NoLayers = true
	before, err := Make(t.Context(), r)
	if err != nil {
		t.Fatal(err)
	}
	r.First = len(before.Plates) + 1
	for _, change := range []func(*progress.Plate){
		func(p *progress.Plate) { p.On = "sold" },
		func(p *progress.Plate) { p.Pieces[0].X = -1 },
		func(p *progress.Plate) { p.Pieces[0].Y = math.MaxFloat32 },
		func(p *progress.Plate) { p.Pieces[1].X, p.Pieces[1].Y = p.Pieces[0].X+1, p.Pieces[0].Y+1 },
		func(p *progress.Plate) { p.Pieces[1].ID = p.Pieces[0].ID },
		func(p *progress.Plate) { p.Pieces[0].ID = "gone" },
		func(p *progress.Plate) { p.Pieces = nil },
	} {
		r.Kept = filed(before)
		change(&r.Kept[0])
		after, err := Make(t.Context(), r)
		if err != nil {
			t.Fatal(err)
		}
		if len(after.GivenUp) != 1 || after.GivenUp[0] != 1 || after.Kept != len(before.Plates)-1 {
			t.Errorf("given up are %v, %d kept", after.GivenUp, after.Kept)
		}
		printed := map[string]int{}
		for _, p := range after.Plates {
			for _, x := range p.Pieces {
				printed[x.Piece.ID]++
			}
			if p.Number == 1 {
				t.Error("a new plate has the number of one that was given up")
			}
		}
		for _, part := range r.Parts {
			for _, pc := range part.Pieces {
				if printed[pc.ID] != 1 {
					t.Errorf("%s is printed %d times", pc.ID, printed[pc.ID])
				}
			}
		}
	}
}
