package blocking_test

import (
	"context"
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// ridged is a leg with a ridged end, like a thread, and the seat it is in. The ridges
// are undercuts of 1 mm, near the widest that a leg as thin as this may pass: lines as
// far apart as the undercut is wide would see it in some places and not in others.
func ridged() [2][]mesh.Triangle {
	leg := [][2]float64{{0, 2}, {4.4, 2}}
	seat := [][2]float64{{0, 0}, {9, 0}, {9, 16}, {3.5, 16}}
	for z := 2.0; z < 14; z += 3 {
		leg = append(leg, [2]float64{4.4, z + 1}, [2]float64{3.4, z + 1.5}, [2]float64{3.4, z + 2.5}, [2]float64{4.4, z + 3})
	}
	for z := 14.0; z > 2; z -= 3 {
		seat = append(seat, [2]float64{4.5, z}, [2]float64{3.5, z - 0.5}, [2]float64{3.5, z - 1.5}, [2]float64{4.5, z - 2})
	}
	leg = append(leg, [2]float64{3.4, 14.5}, [2]float64{3.4, 30}, [2]float64{0, 30})
	return [2][]mesh.Triangle{meshtest.Lathe(leg, 48), meshtest.Lathe(append(seat, [2]float64{4.5, 2}, [2]float64{0, 2}), 48)}
}

// TestCopiesAreJudgedAlike: four equal legs in their seats, each turned and shifted by
// odd amounts, all leave past their undercuts, of nearly the same width.
func TestCopiesAreJudgedAlike(t *testing.T) {
	shapes := ridged()
	for number := range kitstest.Rounds(t, 20, 4) {
		r := rand.New(rand.NewSource(int64(number)))
		var pieces [][]mesh.Triangle
		for k := range 4 {
			turn := meshtest.Identity
			if number > 0 {
				turn = tilted(r)
			}
			at := [3]float64{float64(k) * 40, 0, 0}
			for i := range at {
				at[i] += 0.01 + 0.28*r.Float64()
			}
			for _, s := range shapes {
				pieces = append(pieces, meshtest.Transform(s, turn, at, 1))
			}
		}
		m := measured(t, blocking.Settings{Pitch: 0.3}, pieces...)
		a, err := m.Disassemble(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		checkAccount(t, m, a)
		if len(a.Locked) > 0 {
			t.Errorf("scene %d: locked %v", number, a.Locked)
		}
		var widths []float64
		for _, move := range a.Moves {
			if move.Undercut > 0 {
				widths = append(widths, move.Undercut)
			}
		}
		if len(widths) != 4 {
			t.Errorf("scene %d: %d moves past undercuts, want 4: %v", number, len(widths), a.Moves)
			continue
		}
		for _, w := range widths {
			if math.Abs(w-widths[0]) > 2.5*m.Pitch {
				t.Errorf("scene %d: undercuts of %v, want the same width for all", number, widths)
				break
			}
		}
	}
}

// tilted is a turn by 1 to 44 degrees about each of the axes.
func tilted(r *rand.Rand) [3][3]float64 {
	turn := meshtest.Identity
	for axis := range 3 {
		a := (1 + 43*r.Float64()) * math.Pi / 180
		i, k := (axis+1)%3, (axis+2)%3
		one := meshtest.Identity
		one[i][i], one[k][k], one[i][k], one[k][i] = math.Cos(a), math.Cos(a), -math.Sin(a), math.Sin(a)
		var out [3][3]float64
		for x := range 3 {
			for y := range 3 {
				for z := range 3 {
					out[x][y] += one[x][z] * turn[z][y]
				}
			}
		}
		turn = out
	}
	return turn
}
