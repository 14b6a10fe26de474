package printing

import (
	"math"
	"math/rand"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
)

// fineGrid is turns all over the space of turns, with steps of about the angle between
// neighbours; a box is the same upside down and after a right angle. It is made
// without what the package makes turns with: from unit quaternions.
func fineGrid(step float64) []Turn {
	var list []Turn
	n := int(math.Ceil(math.Pi / 2 / radians(step)))
	for i := range n { // angle from the upright
		tilt := (float64(i) + 0.5) * math.Pi / 2 / float64(n)
		around := int(math.Ceil(2 * math.Pi * math.Sin(tilt) / radians(step)))
		for j := range around {
			to := 2 * math.Pi * float64(j) / float64(around)
			for k := range n {
				about := math.Pi / 2 * float64(k) / float64(n)
				a := [4]float64{math.Cos(tilt / 2), -math.Sin(to) * math.Sin(tilt/2), math.Cos(to) * math.Sin(tilt/2), 0}
				b := [4]float64{math.Cos(about / 2), 0, 0, math.Sin(about / 2)}
				list = append(list, fromQuaternion(times(b, a)))
			}
		}
	}
	return list
}

func times(a, b [4]float64) [4]float64 {
	return [4]float64{
		a[0]*b[0] - a[1]*b[1] - a[2]*b[2] - a[3]*b[3],
		a[0]*b[1] + a[1]*b[0] + a[2]*b[3] - a[3]*b[2],
		a[0]*b[2] - a[1]*b[3] + a[2]*b[0] + a[3]*b[1],
		a[0]*b[3] + a[1]*b[2] - a[2]*b[1] + a[3]*b[0],
	}
}

func fromQuaternion(q [4]float64) Turn {
	w, x, y, z := q[0], q[1], q[2], q[3]
	return Turn{
		{1 - 2*(y*y+z*z), 2 * (x*y - w*z), 2 * (x*z + w*y)},
		{2 * (x*y + w*z), 1 - 2*(x*x+z*z), 2 * (y*z - w*x)},
		{2 * (x*z - w*y), 2 * (y*z + w*x), 1 - 2*(x*x+y*y)},
	}
}

// excessAt is by how much points stick out of a box at a turn, laid as suits best.
func excessAt(t Turn, points []geom.Vec, box geom.Vec) float64 {
	lo, hi := geom.Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, geom.Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for _, p := range points {
		for k := range 3 {
			v := t[k][0]*p[0] + t[k][1]*p[1] + t[k][2]*p[2]
			lo[k], hi[k] = math.Min(lo[k], v), math.Max(hi[k], v)
		}
	}
	least := math.Inf(1)
	for _, a := range [][3]int{{0, 1, 2}, {0, 2, 1}, {1, 0, 2}, {1, 2, 0}, {2, 0, 1}, {2, 1, 0}} {
		most := math.Inf(-1)
		for k := range 3 {
			most = math.Max(most, hi[a[k]]-lo[a[k]]-box[k])
		}
		least = math.Min(least, most)
	}
	return least
}

// isRotation reports whether a turn keeps lengths and hands.
func isRotation(t Turn) bool {
	for i := range 3 {
		for j := range 3 {
			want := 0.0
			if i == j {
				want = 1
			}
			if math.Abs(t[i].Dot(t[j])-want) > 1e-9 {
				return false
			}
		}
	}
	return math.Abs(t[0].Cross(t[1]).Dot(t[2])-1) < 1e-9
}

// On random solids the search finds no worse a turn than the best of all turns of a
// grid with steps of three degrees, to within a thousandth of the solid's length; and
// every fit that it claims is one.
func TestFitAgainstAllTurns(t *testing.T) {
	rng := rand.New(rand.NewSource(3))
	grid := fineGrid(3)
	rounds := kitstest.Rounds(t, 60, 8)
	ways := map[Way]int{}
	for round := range rounds {
		points := hullOf(randomSolid(rng, 6+rng.Intn(60)), 0).Points
		h := hullOf(points, 0)
		at := fromQuaternion(unit4(rng))
		box := at.size(points).Times(0.94 + 0.1*rng.Float64())
		f := Fit(h, box)
		ways[f.Way]++
		if !isRotation(f.Turn) {
			t.Fatalf("round %d: %v is no rotation", round, f.Turn)
		}
		got, best := excessAt(f.Turn, points, box), math.Inf(1)
		for _, g := range grid {
			best = math.Min(best, excessAt(g, points, box))
		}
		long := at.size(points).Length()
		if f.Way == TooLarge && (got > best+long/1000 || best <= 0) {
			t.Errorf("round %d: sticks out by %.3f mm, but a turn of the grid by %.3f (%.0f mm long)", round, got, best, long)
		}
		size := f.Turn.size(points)
		for k := range 3 {
			if f.Way != TooLarge && size[k] > box[k]+spareRoom {
				t.Errorf("round %d: said to fit (%s), but sticks out by %.4f mm", round, f.Way, size[k]-box[k])
			}
			if f.Way == TooLarge && math.Abs(f.Over[k]-max(0, size[k]-box[k])) > 2*spareRoom {
				t.Errorf("round %d: said to stick out by %v, but does by %v", round, f.Over, size.Minus(box))
			}
		}
	}
	t.Logf("%d turns, %v", len(grid), ways)
}

func unit4(rng *rand.Rand) [4]float64 {
	var q [4]float64
	var n float64
	for i := range q {
		q[i] = rng.NormFloat64()
		n += q[i] * q[i]
	}
	for i := range q {
		q[i] /= math.Sqrt(n)
	}
	return q
}

// A box that was drawn around a solid at a random turn holds it at that turn; the
// search must find that one, or another that is not worse by more than a thousandth.
func TestFitFindsPlantedTurn(t *testing.T) {
	rng := rand.New(rand.NewSource(4))
	rounds, missed := kitstest.Rounds(t, 200, 30), 0
	for round := range rounds {
		points := randomSolid(rng, 6+rng.Intn(60))
		at := fromQuaternion(unit4(rng))
		box := at.size(points)
		if f := Fit(hullOf(points, 0), box); f.Way == TooLarge {
			missed++
			if most := max(f.Over[0], f.Over[1], f.Over[2]); most > box.Length()/1000 {
				t.Errorf("round %d: sticks out by %.3f mm of %.0f, though it fits exactly at a turn", round, most, box.Length())
			}
		}
	}
	t.Logf("%d of %d exact fits missed by less", missed, rounds)
}

// A thin rod fits a cube along its diagonal, a thin square as Prince Rupert's passes
// through it: the largest square in a cube of side 1 has sides of 3/4 of the root of 2
// (from memory).
func TestFitKnownLargest(t *testing.T) {
	box := geom.Vec{100, 100, 100}
	square := func(side float64) []geom.Vec {
		return []geom.Vec{{0, 0, 0}, {side, 0, 0}, {side, side, 0}, {0, side, 0}}
	}
	rod := func(long float64) []geom.Vec { return []geom.Vec{{0, 0, 0}, {long, 0, 0}} }
	for _, c := range []struct {
		name   string
		points []geom.Vec
		want   Way
	}{
		{"rod", rod(100), Straight},
		{"rod", rod(141.4), Turned},
		{"rod", rod(141.5), Tilted},
		{"rod", rod(100*math.Sqrt(3) - 0.01), Tilted},
		{"rod", rod(100*math.Sqrt(3) + 0.01), TooLarge},
		{"square", square(75*math.Sqrt2 - 0.01), Tilted},
		{"square", square(75*math.Sqrt2 + 0.01), TooLarge},
	} {
		if f := Fit(hullOf(c.points, 0), box); f.Way != c.want {
			t.Errorf("%s %v: %s, want %s (over %v)", c.name, c.points, f.Way, c.want, f.Over)
		}
	}
}

// The reported angles give the turn again.
func TestAngles(t *testing.T) {
	rng := rand.New(rand.NewSource(5))
	turns := append([]Turn{asModelled, turnOf(0, 90, 0), turnOf(30, -90, 0)}, rightAngles...)
	for range 200 {
		turns = append(turns, fromQuaternion(unit4(rng)))
	}
	for _, u := range turns {
		if again := turnOf(u.Angles()); !isRotation(u) || apartBy(u, again) > 1e-6 {
			x, y, z := u.Angles()
			t.Errorf("%v, told as %g %g %g, is %v", u, x, y, z, again)
		}
	}
}

func apartBy(a, b Turn) float64 {
	var most float64
	for i := range 3 {
		most = max(most, a[i].Minus(b[i]).Length())
	}
	return most
}

func matrix(t Turn) [3][3]float64 { return [3][3]float64{t[0], t[1], t[2]} }
