package demo_test

import (
	"context"
	"math"
	"slices"
	"sync"
	"testing"

	"dryfit/kits"
	"dryfit/kits/demo"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/health"
)

// meshes are shaped once for all tests.
var meshes = sync.OnceValue(demo.Meshes)

func kit(t *testing.T) *kits.Kit {
	t.Helper()
	return kitstest.Read(t, string(demo.KitWithMeshes()))
}

func TestEveryPieceOfTheKitHasItsMesh(t *testing.T) {
	var want, got []string
	printed := 0
	for _, p := range kit(t).Pieces {
		want = append(want, p.ID)
		if p.Part.Printed != "" {
			printed++
		}
	}
	for _, m := range meshes() {
		got = append(got, m.ID)
	}
	slices.Sort(want)
	slices.Sort(got)
	if !slices.Equal(got, want) {
		t.Errorf("meshes\n%v\npieces\n%v", got, want)
	}
	if printed != 131 {
		t.Errorf("%d printed pieces", printed)
	}
}

// One closed surface a piece, turned outward, that does not cut through itself.
func TestMeshesAreSound(t *testing.T) {
	triangles := 0
	for _, p := range meshes() {
		triangles += len(p.Triangles)
		m, err := mesh.FromTriangles(p.ID, p.Triangles)
		if err != nil {
			t.Fatal(p.ID, err)
		}
		h, err := health.Examine(context.Background(), m, health.Options{})
		if err != nil {
			t.Fatal(p.ID, err)
		}
		if m.Turned || !h.Closed || h.Shells != 1 || len(h.Problems) > 0 {
			t.Errorf("%s: turned %v, closed %v, %d shells, %v", p.ID, m.Turned, h.Closed, h.Shells, h.Problems)
		}
	}
	if size := 84*len(meshes()) + 50*triangles; triangles < 200_000 || size > 25_000_000 {
		t.Errorf("%d triangles, %d bytes as binary STL", triangles, size)
	}
}

func TestMeshesAreAsLargeAsTheKitSays(t *testing.T) {
	size := map[string]*kits.Size{}
	for _, p := range kit(t).Pieces {
		size[p.ID] = p.Part.Size
	}
	for _, p := range meshes() {
		want := size[p.ID]
		if want == nil {
			continue
		}
		m, err := mesh.FromTriangles(p.ID, p.Triangles)
		if err != nil {
			t.Fatal(p.ID, err)
		}
		for k, v := range m.Size() {
			if math.Abs(v-want.XYZ[k]) > 0.5 {
				t.Errorf("%s is %.2f, the kit says %v", p.ID, m.Size(), want.XYZ)
				break
			}
		}
	}
}

func TestMeshesAreTheSameEachTime(t *testing.T) {
	for i, p := range demo.Meshes() {
		if q := meshes()[i]; p.ID != q.ID || !slices.Equal(p.Triangles, q.Triangles) {
			t.Errorf("%s and %s differ", p.ID, q.ID)
		}
	}
}

// What a space holds lies between its closers and what they are fitted to.
func TestSpacesHoldWhatTheySay(t *testing.T) {
	k := kit(t)
	box := boxes(t, k)
	for _, s := range k.Spaces {
		var walls []int
		for _, c := range s.ClosedBy {
			if c.Piece < 0 {
				continue
			}
			walls = append(walls, c.Piece)
			if j := k.Fitted(c.Piece); j != nil {
				walls = append(walls, j.Onto...)
			}
		}
		room := box[walls[0]]
		for _, w := range walls {
			for a := range 3 {
				room[0][a], room[1][a] = min(room[0][a], box[w][0][a]), max(room[1][a], box[w][1][a])
			}
		}
		for _, h := range s.Holds {
			for a := range 3 {
				middle := (box[h.Piece][0][a] + box[h.Piece][1][a]) / 2
				if middle < room[0][a] || middle > room[1][a] {
					t.Errorf("%s is outside %s: at %.1f of axis %d, and the walls reach from %.1f to %.1f",
						k.Pieces[h.Piece].ID, s.ID, middle, a, room[0][a], room[1][a])
				}
			}
		}
	}
}

// boxes are the boxes of the kit's pieces.
func boxes(t *testing.T, k *kits.Kit) [][2][3]float64 {
	list := make([][2][3]float64, len(k.Pieces))
	for i, tri := range triangles(k) {
		m, err := mesh.FromTriangles(k.Pieces[i].ID, tri)
		if err != nil {
			t.Fatal(err)
		}
		list[i] = [2][3]float64{m.Min, m.Max}
	}
	return list
}

// triangles are those of the kit's pieces, in the sequence of the kit.
func triangles(k *kits.Kit) [][]mesh.Triangle {
	byID := map[string][]mesh.Triangle{}
	for _, p := range meshes() {
		byID[p.ID] = p.Triangles
	}
	var list [][]mesh.Triangle
	for _, p := range k.Pieces {
		list = append(list, byID[p.ID])
	}
	return list
}
