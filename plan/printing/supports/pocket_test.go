package supports

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/mesh/meshtest"
)

// A bell is open towards the bed, the same cup turned over away from it, and a tube is
// open at both ends. Each holds its closed form to within 6 %, also with walls of 1 mm.
func TestPockets(t *testing.T) {
	r := rand.New(rand.NewSource(5))
	for n := range 10 {
		s := bell(r)
		if n%2 == 0 {
			radius, depth := 8+20*r.Float64(), 10+20*r.Float64()
			s.list = meshtest.Lathe([][2]float64{{radius, 0}, {radius + 1, 0}, {radius + 1, depth + 1}, {0, depth + 1}, {0, depth}, {radius, depth}}, 120)
			s.columns = 60 * math.Sin(2*math.Pi/120) * radius * radius * depth
		}
		p, _, turn, box := measured(t, s, r)
		got, err := p.Pockets(t.Context(), turn, box, 1)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Down/s.columns-1) > 0.06 || got.Up > 0.01*s.columns {
			t.Errorf("a bell of %.0f mm3 holds %.0f down and %.0f up", s.columns, got.Down, got.Up)
		}
		cup := Turn{turn[0], turn[1].Opposite(), turn[2].Opposite()}
		box.Min[1], box.Max[1] = -box.Max[1], -box.Min[1]
		box.Min[2], box.Max[2] = -box.Max[2], -box.Min[2]
		if got, err = p.Pockets(t.Context(), cup, box, 1); err != nil {
			t.Fatal(err)
		}
		if math.Abs(got.Up/s.columns-1) > 0.06 || got.Down > 0.01*s.columns {
			t.Errorf("turned over it holds %.0f down and %.0f up", got.Down, got.Up)
		}
	}
	tube := solid{name: "tube", list: meshtest.Tube(10, 8, 0, 20, 60), rules: onBed}
	p, _, turn, box := measured(t, tube, r)
	if got, err := p.Pockets(t.Context(), turn, box, 1); err != nil || got.Down+got.Up > 0.01 {
		t.Errorf("a tube holds %v, %v", got, err)
	}
}

// Supports in a sealed hollow, or in one with a slit too low, are trapped; with a door
// they are not.
func TestTrapped(t *testing.T) {
	for _, c := range []struct {
		name string
		slit float64 // mm, high
		kept bool
	}{{"sealed", 0, true}, {"slit", 1, true}, {"door", 6, false}} {
		floor := box(0, 0, 0, 40, 30, 3)
		room := append(floor, box(0, 0, 20, 40, 30, 23)...)
		for _, wall := range [3][4]float64{{0, 0, 3, 30}, {37, 0, 40, 30}, {2.9, 27, 37.1, 30}} {
			room = append(room, box(wall[0], wall[1], 2.9, wall[2], wall[3], 20.1)...)
		}
		room = append(room, box(2.9, 0, 2.9+c.slit, 37.1, 3, 20.1)...)
		_, n, _, _ := measured(t, solid{name: c.name, list: room, rules: onBed}, rand.New(rand.NewSource(1)))
		want := 0.0
		if c.kept {
			want = 34 * 24 * 17
		}
		if !near(n.Trapped, want, 0.05) {
			t.Errorf("%s: %.0f mm3 trapped, should be %.0f", c.name, n.Trapped, want)
		}
	}
}

// A gap is bridged if it is short enough between two solid ends, whichever way it runs;
// a ledge held at one end is not.
func TestBridges(t *testing.T) {
	rules := Rules{Angle: 45, Layer: 0.2, Bridge: 10}
	straight := Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	for _, c := range []struct {
		name string
		gap  float64
		ends int
		area float64
	}{{"short", 8, 2, 0}, {"long", 14, 2, 14 * 20}, {"ledge", 8, 1, 11 * 20}} {
		for turn := range 2 {
			list := append(box(0, 0, 15, 6+c.gap, 20, 18), box(0, 0, 0, 3, 20, 15.1)...)
			if c.ends == 2 {
				list = append(list, box(3+c.gap, 0, 0, 6+c.gap, 20, 15.1)...)
			}
			if turn == 1 {
				list = meshtest.Transform(list, [3][3]float64{{0, -1, 0}, {1, 0, 0}, {0, 0, 1}}, [3]float64{}, 1)
			}
			m := meshOf(t, list)
			p := &Part{Surface: m, Triangles: m.Len()}
			n, err := p.Measure(t.Context(), straight, m.Box, rules)
			if err != nil || !near(n.Area, c.area, 0.05) {
				t.Errorf("%s: %.0f mm2 need support, should be %.0f; %v", c.name, n.Area, c.area, err)
			}
		}
	}
}
