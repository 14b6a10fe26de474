package blocking_test

import (
	"context"
	"math/rand"
	"reflect"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/meshtest"
	"dryfit/plan/blocking"
)

// TestKnown: with what is known from before, a model comes out as it does anew,
// whichever pieces were changed, added, left out or put in another sequence.
func TestKnown(t *testing.T) {
	r := rand.New(rand.NewSource(7))
	for range kitstest.Rounds(t, 12, 2) {
		var pieces []*mesh.Mesh
		for i := range 6 {
			pieces = append(pieces, somewhere(t, r, i))
		}
		first := look(t, pieces, nil)
		if _, err := first.Disassemble(context.Background()); err != nil {
			t.Fatal(err)
		}
		known := first.Known()

		changed := append([]*mesh.Mesh(nil), pieces...)
		n := r.Intn(6)
		changed[n] = somewhere(t, r, n)
		for name, list := range map[string][]*mesh.Mesh{
			"the same":     pieces,
			"one changed":  changed,
			"one left out": append(append([]*mesh.Mesh(nil), pieces[:n]...), pieces[n+1:]...),
			"one more":     append(append([]*mesh.Mesh(nil), pieces...), somewhere(t, r, 6)),
			"turned round": {pieces[5], pieces[4], pieces[3], pieces[2], pieces[1], pieces[0]},
			"one twice":    append(append([]*mesh.Mesh(nil), pieces...), pieces[n]),
		} {
			anew, again := look(t, list, nil), look(t, list, known)
			if len(again.Directions) != len(anew.Directions) {
				t.Fatalf("%s: %d directions, want %d", name, len(again.Directions), len(anew.Directions))
			}
			for d := range anew.Directions {
				for a := range list {
					for b := range list {
						if a != b && anew.Blocks(a, b, d) != again.Blocks(a, b, d) {
							t.Errorf("%s: %d past %d along %v: %v, want %v", name, a, b, anew.Directions[d], again.Blocks(a, b, d), anew.Blocks(a, b, d))
						}
					}
				}
			}
			if !reflect.DeepEqual(anew.NotClosed, again.NotClosed) || len(anew.Pairs) != len(again.Pairs) {
				t.Errorf("%s: %v and %d pairs, want %v and %d", name, again.NotClosed, len(again.Pairs), anew.NotClosed, len(anew.Pairs))
				continue
			}
			for i, p := range anew.Pairs {
				q := again.Pairs[i]
				if p.A != q.A || p.B != q.B || !alike(p.Contact, q.Contact) || !alike(p.Depth, q.Depth) || !alike(p.Volume, q.Volume) {
					t.Errorf("%s: pair %+v, want %+v", name, q, p)
				}
			}
		}
	}
}

func look(t *testing.T, pieces []*mesh.Mesh, known *blocking.Known) *blocking.Model {
	t.Helper()
	m, err := blocking.Measure(context.Background(), pieces, blocking.Settings{Pitch: 0.3, Known: known})
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// alike allows for depths, which are counted in parts of the model's own.
func alike(a, b float64) bool { return a == b || near(a, b, 0.1) }

// somewhere is a box or a tube among others: some touch, some overlap. Boxes along
// the axes suggest no axes of their own.
func somewhere(t *testing.T, r *rand.Rand, i int) *mesh.Mesh {
	t.Helper()
	at := vec{float64(r.Intn(12)), float64(r.Intn(12)), float64(r.Intn(12))}
	size := vec{float64(2 + r.Intn(6)), float64(2 + r.Intn(6)), float64(2 + r.Intn(6))}
	list := meshtest.Box(at, vec{at[0] + size[0], at[1] + size[1], at[2] + size[2]})
	if i%3 == 2 {
		list = meshtest.Transform(meshtest.Tube(3, 2, 0, 5, 24), meshtest.Identity, at, 1)
	}
	m, err := mesh.FromTriangles(string(rune('a'+i)), list)
	if err != nil {
		t.Fatal(err)
	}
	return m
}
