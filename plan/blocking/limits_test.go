package blocking_test

import (
	"context"
	"errors"
	"fmt"
	"math"
	"testing"
	"time"

	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

func made(t *testing.T, lists ...[]mesh.Triangle) (pieces []*mesh.Mesh) {
	for _, list := range lists {
		m, err := mesh.FromTriangles("piece", list)
		if err != nil {
			t.Fatal(err)
		}
		pieces = append(pieces, m)
	}
	return pieces
}

// TestFewPieces: nothing to take apart is no mistake.
func TestFewPieces(t *testing.T) {
	for n := range 2 {
		pieces := made(t, box(vec{}, vec{1, 2, 3}))[:n]
		m, err := blocking.Measure(context.Background(), pieces, blocking.Settings{})
		if err != nil {
			t.Fatalf("%d pieces: %v", n, err)
		}
		a, err := m.Disassemble(context.Background())
		if err != nil || len(a.Moves) != 0 || len(a.Locked) != 0 || len(m.Pairs) != 0 {
			t.Errorf("%d pieces: %+v, pairs %v, error %v; want nothing", n, a, m.Pairs, err)
		}
	}
}

// TestOddMeshes: meshes that are no solids do not stop the measuring; those with gaps
// are told.
func TestOddMeshes(t *testing.T) {
	whole := box(vec{20, 0, 0}, vec{30, 10, 10})
	cube := box(vec{}, vec{10, 10, 10})
	for _, c := range []struct {
		name string
		list []mesh.Triangle
		open bool
	}{
		{"a side missing", cube[4:], true},
		{"one triangle", cube[:1], true},
		{"inside out", meshtest.Inverted(cube), false},
		{"twice the same", meshtest.Merge(cube, cube), false},
		{"triangles without area", meshtest.Merge(cube, []mesh.Triangle{{cube[0][0], cube[0][0], cube[0][1]}, {cube[0][2], cube[0][2], cube[0][2]}}), false},
		{"two solids", meshtest.Merge(cube, box(vec{0, 0, 15}, vec{10, 10, 20})), false},
		{"solids that overlap", meshtest.Merge(cube, box(vec{5, 5, 5}, vec{15, 15, 15})), false},
	} {
		m, err := blocking.Measure(context.Background(), made(t, c.list, whole), blocking.Settings{})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if (m.NotClosed[0] > 0) != c.open || m.NotClosed[1] != 0 {
			t.Errorf("%s: not closed along %d lines; want some: %v", c.name, m.NotClosed, c.open)
		}
		if !c.open {
			for _, x := range []struct {
				a, b int
				d    vec
				want verdict
			}{{0, 1, vec{1, 0, 0}, blocked}, {1, 0, vec{1, 0, 0}, free}, {0, 1, vec{-1, 0, 0}, free}, {0, 1, up, free}} {
				if got := m.Blocks(x.a, x.b, along(t, m, x.d)); !x.want.agrees(got) {
					t.Errorf("%s: %d leaves along %v: %s, want %s", c.name, x.a, x.d, relation(got), x.want)
				}
			}
		}
		a, err := m.Disassemble(context.Background())
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		checkAccount(t, m, a)
	}
}

// TestSamePlace: two pieces that are the same solid clash, and both ways of taking
// apart end.
func TestSamePlace(t *testing.T) {
	cube := box(vec{}, vec{10, 10, 10})
	m := measured(t, blocking.Settings{}, cube, cube, box(vec{10, 0, 0}, vec{20, 10, 10}))
	if pair := m.Pair(0, 1); pair == nil || !near(pair.Volume, 1000, 2) || !near(pair.Depth, 10, 2) {
		t.Errorf("the same solid twice: %+v, want 1000 mm3, 10 mm deep", pair)
	}
	for _, take := range []func(context.Context) (*blocking.Disassembly, error){m.Disassemble, m.DisassembleStrictly} {
		a, err := take(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		checkAccount(t, m, a)
	}
}

// bounded is a context that ends what would otherwise hang.
func bounded(t *testing.T) context.Context {
	ctx, stop := context.WithTimeout(t.Context(), 2*time.Minute)
	t.Cleanup(stop)
	return ctx
}

// TestSettings: what cannot be measured is refused before any work is done for it.
func TestSettings(t *testing.T) {
	near := made(t, box(vec{}, vec{100, 100, 100}), box(vec{100, 0, 0}, vec{200, 100, 100}))
	for _, s := range []blocking.Settings{
		{Pitch: 1e-4}, {Pitch: 1e-300}, {Pitch: -1}, {Pitch: math.NaN()}, {Pitch: math.Inf(1)},
		{Depth: -1}, {Depth: math.NaN()}, {Depth: math.Inf(1)},
		{Toward: []vec{{}}}, {Toward: []vec{{math.NaN(), 0, 1}}}, {Toward: []vec{{math.Inf(1), 0, 1}}},
	} {
		t.Run(fmt.Sprintf("pitch %g depth %g toward %g", s.Pitch, s.Depth, s.Toward), func(t *testing.T) {
			if _, err := blocking.Measure(bounded(t), near, s); err == nil || errors.Is(err, context.DeadlineExceeded) {
				t.Errorf("error %v, want it refused", err)
			} else if s.Pitch == 1e-4 && !errors.Is(err, blocking.ErrTooFine) {
				t.Errorf("%v, want ErrTooFine", err)
			}
		})
	}
}

// TestFarApart: pieces ten kilometres apart are measured or refused, not waited for.
func TestFarApart(t *testing.T) {
	far := made(t, box(vec{}, vec{1, 1, 1}), box(vec{1e7, 0, 0}, vec{1e7 + 10, 10, 10}))
	if _, err := blocking.Measure(bounded(t), far, blocking.Settings{Pitch: 0.3}); err != nil && !errors.Is(err, blocking.ErrTooFine) {
		t.Error(err)
	}
}

// TestToward checks that a requested direction is measured, no matter what its
// length is.
func TestToward(t *testing.T) {
	toward := vec{0.3, 0.5, 2.7}
	m := measured(t, blocking.Settings{Toward: []vec{toward, times(-4, toward), up}}, box(vec{}, vec{10, 10, 10}), box(vec{0, 0, 10}, vec{10, 10, 20}))
	checkDirections(t, m)
	if got := m.Blocks(0, 1, along(t, m, unit(toward))); got != blocking.Blocked {
		t.Errorf("along %v: %s, want blocked", toward, relation(got))
	}
}

// TestCancel: work that has been cancelled ends with the reason.
func TestCancel(t *testing.T) {
	pieces := made(t, meshtest.Sphere(40, 400, 200), box(vec{50, 0, 0}, vec{60, 10, 10}))
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := blocking.Measure(ctx, pieces, blocking.Settings{}); !errors.Is(err, context.Canceled) {
		t.Errorf("called off: error %v", err)
	}
	m := measured(t, blocking.Settings{}, mazes[2].cells(poses()[3], 3).triangles()...)
	if _, err := m.Disassemble(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("search for a way called off: error %v", err)
	}
}

// TestSameEveryTime: the same pieces give the same answer, to the last digit.
func TestSameEveryTime(t *testing.T) {
	for number := range scenes(t, 20) {
		s := numberedScene(number)
		m := measured(t, blocking.Settings{Pitch: 0.3}, s.triangles()...)
		n := measured(t, blocking.Settings{Pitch: 0.3}, s.triangles()...)
		for i := range m.Pairs {
			if m.Pairs[i] != n.Pairs[i] {
				t.Errorf("scene %d: pair %+v, then %+v", number, m.Pairs[i], n.Pairs[i])
			}
		}
		for i, d := range m.Directions {
			if n.Directions[i] != d {
				t.Errorf("scene %d: direction %v, then %v", number, d, n.Directions[i])
			}
			for a := range s.solids {
				for b := range s.solids {
					if a != b && m.Blocks(a, b, i) != n.Blocks(a, b, i) {
						t.Errorf("scene %d: %d past %d along %v: %s, then %s", number, a, b, d, relation(m.Blocks(a, b, i)), relation(n.Blocks(a, b, i)))
					}
				}
			}
		}
	}
}
