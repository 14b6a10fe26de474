package supports

import (
	"context"
	"errors"
	"testing"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
)

// loose is a part of loose tetrahedra, each with a corner down and well apart from the
// others; the first row stands on the bed.
func loose(rows, each int) (list []mesh.Triangle) {
	for z := range rows {
		for i := range each {
			x, y, h := float32(4*(i%10)), float32(4*(i/10)), float32(5*z)
			corners := [][3]float32{{x, y, h}, {x + 2, y, h + 3}, {x - 1, y + 1, h + 3}, {x - 1, y - 1, h + 3}}
			list = append(list, meshtest.Polyhedron(corners, []int{0, 2, 1}, []int{0, 3, 2}, []int{0, 1, 3}, []int{1, 2, 3})...)
		}
	}
	return list
}

// Each of many loose solids above the bed is an island, and counting stops once the
// context is over.
func TestLooseIslands(t *testing.T) {
	list := loose(20, 100)
	box := geom.Box{Min: geom.Vec{-1, -1, 0}, Max: geom.Vec{38, 37, 98}}
	p := &Part{Surface: meshOf(t, list), Triangles: len(list)}
	n, err := p.Measure(t.Context(), Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, box, onBed)
	if err != nil || n.Islands != 1900 {
		t.Errorf("%d islands, %v; want 1900", n.Islands, err)
	}
	over, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := p.islands(over, p.lines(), onBed.Layer); !errors.Is(err, context.Canceled) {
		t.Errorf("islands: %v", err)
	}
	if _, err := p.grid.air().free(over); !errors.Is(err, context.Canceled) {
		t.Errorf("free: %v", err)
	}
	if _, err := p.grid.air().pocket(over); !errors.Is(err, context.Canceled) {
		t.Errorf("pocket: %v", err)
	}
}

func BenchmarkLooseIslands(b *testing.B) {
	list := loose(80, 100)
	box := geom.Box{Min: geom.Vec{-1, -1, 0}, Max: geom.Vec{38, 37, 398}}
	p := &Part{Surface: meshOf(b, list), Triangles: len(list)}
	for b.Loop() {
		if _, err := p.Measure(b.Context(), Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}, box, onBed); err != nil {
			b.Fatal(err)
		}
	}
}
