package blocking_test

import (
	"context"
	"fmt"
	"math"
	"math/rand"
	"slices"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// way says along which directions of the fixture piece a leaves past b. Along others
// that are more than wide away it is blocked; in between lies what clearance and
// resolution leave open.
type way struct {
	a, b int
	free []vec
	wide float64 // degrees
}

// smooth is a fixture with round or oblique faces, at a clearance in mm between the
// two pieces on all sides; a negative one is CAD overlap.
type smooth struct {
	name string
	make func(clearance float64) [][]mesh.Triangle
	ways []way
	// chord is how deep the pieces overlap without clearance, because chords of one
	// circle cut off what those of the other do not.
	chord float64
}

var up, down = vec{0, 0, 1}, vec{0, 0, -1}

var smoothFixtures = []smooth{
	{"square peg in a blind hole", squarePeg, []way{{0, 1, []vec{up}, 6}, {1, 0, []vec{down}, 6}}, 0},
	{"round peg in a blind hole", func(c float64) [][]mesh.Triangle { return roundPeg(c, 48, 48) },
		[]way{{0, 1, []vec{up}, 6}, {1, 0, []vec{down}, 6}}, 0},
	{"round peg cut otherwise than its hole", func(c float64) [][]mesh.Triangle { return roundPeg(c, 48, 36) },
		[]way{{0, 1, []vec{up}, 6}, {1, 0, []vec{down}, 6}}, 0.031},
	{"round peg cut more coarsely than its hole", func(c float64) [][]mesh.Triangle { return roundPeg(c, 36, 48) },
		[]way{{0, 1, []vec{up}, 6}, {1, 0, []vec{down}, 6}}, 0.018},
	{"dovetail", dovetail, []way{{0, 1, []vec{up, down}, 6}, {1, 0, []vec{up, down}, 6}}, 0},
	{"ball in half shells", func(c float64) [][]mesh.Triangle { return shelledBall(c, 48) }, shellWays, 0},
	{"ball in half shells cut otherwise", func(c float64) [][]mesh.Triangle { return shelledBall(c, 36) }, shellWays, 0.043},
	{"box in a closed box", closedBox, []way{{0, 1, nil, 0}, {1, 0, nil, 0}}, 0},
}

// shellWays: each shell leaves the ball straight away from it only.
var shellWays = []way{
	{0, 1, []vec{down}, 26}, {1, 0, []vec{up}, 26},
	{0, 2, []vec{up}, 26}, {2, 0, []vec{down}, 26},
}

func squareRing(half float64) [][2]float64 {
	return [][2]float64{{-half, -half}, {half, -half}, {half, half}, {-half, half}}
}

func squarePeg(c float64) [][]mesh.Triangle {
	return [][]mesh.Triangle{
		meshtest.Prism(squareRing(8-c), 6+c, 28),
		meshtest.Pocket(squareRing(15), squareRing(8), 0, 6, 24),
	}
}

func roundPeg(c float64, peg, hole int) [][]mesh.Triangle {
	return [][]mesh.Triangle{
		meshtest.Cylinder(8-c, 6+c, 28, peg),
		meshtest.Pocket(squareRing(15), meshtest.Circle([2]float64{}, 8, hole), 0, 6, 24),
	}
}

// dovetail: flanks at 60 degrees, drawn along z.
func dovetail(c float64) [][]mesh.Triangle {
	root3 := math.Sqrt(3)
	// The rail is the groove with each side moved inwards by c.
	bottom, side := 7-c*root3, 6.0 // half widths below and how high the groove is
	rail := [][2]float64{{-bottom, c}, {bottom, c}, {bottom - (side-c)/root3, side}, {-bottom + (side-c)/root3, side}}
	block := [][2]float64{{-15, -8}, {15, -8}, {15, side}, {7 - side/root3, side}, {7, 0}, {-7, 0}, {-7 + side/root3, side}, {-15, side}}
	return [][]mesh.Triangle{meshtest.Prism(rail, 0, 20), meshtest.Prism(block, 0, 20)}
}

func shelledBall(c float64, segments int) [][]mesh.Triangle {
	upper := meshtest.HalfShell(12, 10, 48, 12)
	return [][]mesh.Triangle{
		meshtest.Sphere(10-c, segments, segments/2),
		upper,
		meshtest.Transform(upper, [3][3]float64{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}, vec{}, 1),
	}
}

func closedBox(c float64) [][]mesh.Triangle {
	box := func(half float64) []mesh.Triangle {
		return meshtest.Box(vec{-half, -half, -half}, vec{half, half, half})
	}
	return [][]mesh.Triangle{box(5 - c), meshtest.Merge(box(8), meshtest.Inverted(box(5)))}
}

// placed puts all pieces of a fixture into the model.
func placed(lists [][]mesh.Triangle, p pose, scale float64) [][]mesh.Triangle {
	var out [][]mesh.Triangle
	for _, list := range lists {
		out = append(out, meshtest.Transform(list, p.turn, p.move, scale))
	}
	return out
}

// TestSmooth: the fixtures with clearance, without any, and with as little CAD
// overlap as designers overlook, at a pitch of 0.3.
func TestSmooth(t *testing.T) {
	some := somePoses(t)
	for _, f := range smoothFixtures {
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			for _, p := range some {
				for _, clearance := range []float64{-0.05, -0.01, 0, 0.1} {
					m := measured(t, blocking.Settings{Pitch: 0.3}, placed(f.make(clearance), p, 1)...)
					checkWays(t, fmt.Sprintf("%s, clearance %g", p.name, clearance), m, p, f.ways)
				}
			}
		})
	}
}

// TestSmoothScaled: small, as they are and large at the pitch that the package
// chooses, with as little clearance as lets them touch without overlap.
func TestSmoothScaled(t *testing.T) {
	scales := []float64{0.1, 1, 10}[:kitstest.Rounds(t, 3, 2)]
	for _, f := range smoothFixtures {
		t.Run(f.name, func(t *testing.T) {
			t.Parallel()
			for _, scale := range scales {
				for _, p := range []pose{poses()[0], poses()[3]} {
					m := measured(t, blocking.Settings{}, placed(f.make(f.chord), p, scale)...)
					if m.Pitch > 0.3 || m.Pitch <= 0 {
						t.Errorf("the pitch chosen is %g, want at most 0.3", m.Pitch)
					}
					checkWays(t, fmt.Sprintf("%s, scale %g, pitch %.3g", p.name, scale, m.Pitch), m, p, f.ways)
				}
			}
		})
	}
}

func checkWays(t *testing.T, where string, m *blocking.Model, p pose, ways []way) {
	t.Helper()
	checkDirections(t, m)
	for _, w := range ways {
		for _, d := range w.free {
			along(t, m, p.toModel(d))
		}
		sure := 0
		for i, d := range m.Directions {
			nearest := math.Inf(1)
			for _, f := range w.free {
				nearest = min(nearest, degrees(angle(d, p.toModel(f))))
			}
			want := either
			switch {
			case nearest < degrees(sameWay):
				want = free
			case nearest > w.wide:
				want = blocked
				sure++
			}
			if got := m.Blocks(w.a, w.b, i); !want.agrees(got) {
				t.Errorf("%s: %d leaves along %.6f past %d: %s, want %s (%.4f degrees from a free direction)", where, w.a, p.toCells(d), w.b, relation(got), want, nearest)
			}
		}
		if sure < 16 {
			t.Errorf("%s: only %d directions in which %d must be blocked", where, sure, w.a)
		}
	}
}

// TestSmoothApart: how the fixtures come apart.
func TestSmoothApart(t *testing.T) {
	some := somePoses(t)
	for _, f := range smoothFixtures {
		for _, p := range some {
			m := measured(t, blocking.Settings{Pitch: 0.3}, placed(f.make(0), p, 1)...)
			a, err := m.Disassemble(context.Background())
			if err != nil {
				t.Fatal(err)
			}
			checkAccount(t, m, a)
			if f.name == "box in a closed box" {
				if len(a.Moves) != 0 || len(a.Locked) != 1 || !slices.Equal(a.Locked[0].Pieces, []int{0, 1}) {
					t.Errorf("%s, %s: moves %v, locked %v; want both locked", f.name, p.name, a.Moves, a.Locked)
				}
				continue
			}
			if len(a.Locked) != 0 || len(a.Moves) != len(m.Pieces)-1 {
				t.Errorf("%s, %s: moves %v, locked %v; want it fully apart", f.name, p.name, a.Moves, a.Locked)
			}
			for _, move := range a.Moves {
				if slices.Contains(move.Pieces, 0) && len(move.Pieces) == 1 && len(move.Rest) == 2 {
					t.Errorf("%s, %s: the ball leaves first", f.name, p.name)
				}
				if len(move.Legs) != 1 {
					t.Errorf("%s, %s: %v leaves by %d legs, one is enough", f.name, p.name, move.Pieces, len(move.Legs))
				}
			}
		}
	}
}

// TestLips: what hangs over is seen when a disc of one and a half pitches fits into
// it, however thin it is along the way out, and let pass when none of half does.
func TestLips(t *testing.T) {
	const pitch = 0.3
	r := rand.New(rand.NewSource(11))
	rounds := kitstest.Rounds(t, 5, 2)
	for _, width := range []float64{0.1, 0.3, 0.48, 1.52, 2, 4} { // in pitches
		for _, thick := range []float64{0.04, 0.5, 3} { // mm
			for i := range rounds {
				p := pose{"at random", meshtest.RandomRotation(r), times(30*r.Float64(), randomUnit(r))}
				if i == 0 {
					p = pose{"as it stands", meshtest.Identity, vec{}}
				}
				w := width * pitch
				for name, lip := range map[string][]mesh.Triangle{
					"lip on one side": meshtest.Extrude(squareRing(10), [][][2]float64{{{-5 + w, -6}, {6, -6}, {6, 6}, {-5 + w, 6}}}, 4, 4+thick),
					"lip all round":   meshtest.Extrude(squareRing(10), [][][2]float64{squareRing(5 - w)}, 4, 4+thick),
					"round lip":       meshtest.Extrude(squareRing(10), [][][2]float64{meshtest.Circle([2]float64{}, 5-w, 64)}, 4, 4+thick),
				} {
					plug := meshtest.Prism(squareRing(5), 0, 4)
					if name == "round lip" {
						plug = meshtest.Cylinder(5, 0, 4, 64)
					}
					m := measured(t, blocking.Settings{Pitch: pitch}, placed([][]mesh.Triangle{plug, lip}, p, 1)...)
					want := blocked
					if width < 1 {
						want = free
					}
					for _, x := range []struct {
						a, b int
						d    vec
						want verdict
					}{{0, 1, up, want}, {1, 0, down, want}, {0, 1, down, free}, {1, 0, up, free}} {
						if got := m.Blocks(x.a, x.b, along(t, m, p.toModel(x.d))); !x.want.agrees(got) {
							t.Errorf("%s %.2f pitches wide, %g mm thick, %s: %d leaves along %v: %s, want %s",
								name, width, thick, p.name, x.a, x.d, relation(got), x.want)
						}
					}
				}
			}
		}
	}
}

// TestDraft: a plug in a hole that widens upwards comes out; one in a hole that
// narrows does when the narrowing over its length is within the resolution.
func TestDraft(t *testing.T) {
	const pitch, length = 0.3, 20.0
	some := somePoses(t)
	for _, c := range []struct {
		widens float64 // mm over the length, each side
		want   verdict
	}{{0.05, free}, {0.5, free}, {3, free}, {0, free}, {-0.48 * pitch, free}, {-1.52 * pitch, blocked}, {-1, blocked}, {-3, blocked}} {
		for _, p := range some {
			for _, segments := range []int{4, 64} {
				plug := meshtest.Frustum(8, 8+c.widens, 3, 3+length, segments)
				block := meshtest.Lathe([][2]float64{{0, 0}, {15, 0}, {15, 3 + length}, {8 + c.widens, 3 + length}, {8, 3}, {0, 3}}, segments)
				m := measured(t, blocking.Settings{Pitch: pitch}, placed([][]mesh.Triangle{plug, block}, p, 1)...)
				for _, x := range []struct {
					a, b int
					d    vec
					want verdict
				}{{0, 1, up, c.want}, {1, 0, down, c.want}, {0, 1, down, blocked}, {1, 0, up, blocked}} {
					if got := m.Blocks(x.a, x.b, along(t, m, p.toModel(x.d))); !x.want.agrees(got) {
						t.Errorf("hole of %d sides widens by %.3f mm, %s: %d leaves along %v: %s, want %s",
							segments, c.widens, p.name, x.a, x.d, relation(got), x.want)
					}
				}
			}
		}
	}
}

// TestOnTheGrid: walls on whole millimetres, sample lines a whole number of which
// fall on a millimetre, and ends flush with each other.
func TestOnTheGrid(t *testing.T) {
	for _, pitch := range kitstest.Some(t, 2, []float64{1, 0.5, 0.25, 0.125}) {
		tube := [][]mesh.Triangle{
			meshtest.Prism(squareRing(4), 0, 12),
			meshtest.Extrude(squareRing(7), [][][2]float64{squareRing(4)}, 0, 12),
		}
		m := measured(t, blocking.Settings{Pitch: pitch}, tube...)
		checkWays(t, fmt.Sprintf("rod in a tube, pitch %g", pitch), m, poses()[0],
			[]way{{0, 1, []vec{up, down}, degrees(math.Atan(2 * pitch / 12))}, {1, 0, []vec{up, down}, degrees(math.Atan(2 * pitch / 12))}})
		for _, f := range fixtures[:5] {
			c := f.cells(2, poses()[0])
			m := measured(t, blocking.Settings{Pitch: pitch}, c.triangles()...)
			checkCells(t, m, c)
			checkFixture(t, m, &f, c)
		}
	}
}
