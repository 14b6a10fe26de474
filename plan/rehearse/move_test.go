package rehearse

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"dryfit/kits/kitstest"
	"dryfit/plan"
)

// Moves lead to the order that they were made for, and there are as few of them as
// entries that stand elsewhere.
func TestMovesTo(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		n := 2 + r.IntN(7)
		order := indices(n)
		for range 1 + r.IntN(2) {
			from, to := r.IntN(n), r.IntN(n+1)
			if to != from && to != from+1 {
				order = moved(order, Move{from, to})
			}
		}
		got := indices(n)
		moves := movesTo(order)
		for _, v := range moves {
			got = moved(got, v)
		}
		if !slices.Equal(got, order) || len(moves) != n-common(indices(n), order) {
			t.Fatalf("%v leads to %v, want %v", moves, got, order)
		}
	}
}

// Where moving one step makes a sequence work, the shortest such move is found; what is
// advised always works.
func TestAdvise(t *testing.T) {
	var count struct{ fails, one, two, none int }
	eachSolved(t, kitstest.Rounds(t, 1500, 300), func(seed uint64, r *rand.Rand, p *plan.Project) {
		g, steps := p.Constraints.Geometry, p.Constraints.Steps
		order := slices.Clone(p.Sequence.Order)
		if !Walk(p.Kit, g, steps, Actions(order)).OK() {
			return
		}
		for range 1 + r.IntN(2) {
			v := Move{r.IntN(len(order)), r.IntN(len(order) + 1)}
			if v.Before != v.Action && v.Before != v.Action+1 {
				order = moved(order, v)
			}
		}
		list := Actions(order)
		if Walk(p.Kit, g, steps, list).OK() {
			return
		}
		count.fails++
		a := Advise(p.Kit, g, steps, list)
		best := shortestMove(p, list)
		switch {
		case best >= 0 && (len(a.Moves) != 1 || a.Moves[0].distance() != best):
			t.Errorf("advised %+v, want one move by %d:\n%s", a.Moves, best, describe(seed, p, order))
		case a.Moves == nil:
			count.none++
			return
		case best >= 0:
			count.one++
		default:
			count.two++
		}
		for _, v := range a.Moves {
			list = v.Apply(list)
		}
		if !slices.Equal(list, a.Fixed) || !Walk(p.Kit, g, steps, list).OK() {
			t.Errorf("the moves %+v do not make it work:\n%s", a.Moves, describe(seed, p, order))
		}
	})
	t.Logf("%+v", count)
	if count.one == 0 || count.two == 0 {
		t.Errorf("the kits test too little: %+v", count)
	}
}

// shortestMove tries all moves: the distance of the shortest that makes a sequence work,
// or -1.
func shortestMove(p *plan.Project, list []Action) int {
	best := -1
	for from := range list {
		for to := 0; to <= len(list); to++ {
			v := Move{from, to}
			if to == from || to == from+1 || best >= 0 && v.distance() >= best {
				continue
			}
			if Walk(p.Kit, p.Constraints.Geometry, p.Constraints.Steps, v.Apply(list)).OK() {
				best = v.distance()
			}
		}
	}
	return best
}

// The place of the step that fails is the nearest one: before what shuts it out, or after
// what it waits for.
func TestPlace(t *testing.T) {
	r := setUp(t, `parts: {box: {}, lid: {}, seat: {}, cup: {}, flag: {}}
joins:
  - {fit: seat, to: box}
  - {fit: cup, to: seat}
  - {fit: lid, to: box}
  - {fit: flag, to: lid}
spaces:
  room: {closed-by: [lid], holds: [seat, cup]}
`, "")
	for _, c := range []struct {
		sequence string
		want     Move
	}{
		{"seat; lid; flag; cup", Move{3, 1}},
		{"seat; cup; flag; lid", Move{2, 4}},
		{"cup; flag; seat; lid", Move{0, 3}},
	} {
		list, err := Read(r.kit, r.steps, "", []byte(strings.ReplaceAll(c.sequence, "; ", "\n")))
		if err != nil {
			t.Fatal(err)
		}
		if got := Advise(r.kit, nil, r.steps, list).Place; got == nil || *got != c.want {
			t.Errorf("%s: the place is %v, want %v", c.sequence, got, c.want)
		}
	}
}
