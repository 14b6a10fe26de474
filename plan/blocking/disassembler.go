package blocking

import (
	"cmp"
	"context"
	"slices"

	"dryfit/kits/geom"
)

// branch is a group to take apart, and the graphs of the further axes along which it was
// measured.
type branch struct {
	group  []int32
	graphs []graph
}

// disassembler takes groups of pieces apart. Blocking is a relation of pairs, so taking
// pieces off never makes the rest harder to take apart.
type disassembler struct {
	m      *Model
	strict bool
	graphs []graph
	shared int // of these: measured for all pieces
	touch  [][]int32
	room   []float64 // of each piece: volume of its box

	in     []bool    // pieces of the current group
	sized  []int32   // the same, by size
	count  [][]int32 // direction, piece: how many of the group block it
	ways   []int32   // of each piece: directions in which none does
	best   []bestWay // of each piece
	cover  []int32   // of each piece: one that covers it, or -1
	mark   []int32   // scratch of together
	marks  int32
	looked int // groups measured along their own axes

	outlinesOf map[geom.Vec][]outline
	out        *Disassembly
}

// bestWay is the way chosen when a piece had a number of them; ways are only added.
type bestWay struct {
	ways int32
	way  int
}

func newDisassembler(m *Model, strict bool) *disassembler {
	n := len(m.Pieces)
	t := &disassembler{m: m, strict: strict, in: make([]bool, n), mark: make([]int32, n), touch: make([][]int32, n), out: &Disassembly{},
		ways: make([]int32, n), best: make([]bestWay, n), cover: make([]int32, n)}
	for i := range m.axes {
		t.addAxis(&m.axes[i])
	}
	t.shared = len(t.graphs)
	for _, p := range m.Pairs {
		if p.Contact > 0 || p.Depth > 0 {
			t.touch[p.A] = append(t.touch[p.A], int32(p.B))
			t.touch[p.B] = append(t.touch[p.B], int32(p.A))
		}
	}
	for _, p := range m.Pieces {
		s := p.Size()
		t.room = append(t.room, s[0]*s[1]*s[2])
	}
	return t
}

func (t *disassembler) addAxis(a *axis) {
	g := t.m.graphs(a, t.strict)
	t.graphs = append(t.graphs, g[:]...)
	t.count = append(t.count, make([]int32, len(t.m.Pieces)), make([]int32, len(t.m.Pieces)))
}

func (t *disassembler) all() []int32 {
	var list []int32
	for _, p := range t.m.all() {
		list = append(list, int32(p))
	}
	return list
}

// without is a group without some of its pieces.
func (t *disassembler) without(group, off []int32) []int32 {
	t.marks++
	for _, p := range off {
		t.mark[p] = t.marks
	}
	rest := make([]int32, 0, len(group)-len(off))
	for _, p := range group {
		if t.mark[p] != t.marks {
			rest = append(rest, p)
		}
	}
	return rest
}

// split takes pieces off a group until one is left, and returns the groups that
// were taken off together, to be taken apart later.
func (t *disassembler) split(ctx context.Context, group []int32) ([]branch, error) {
	for _, p := range group {
		t.in[p] = true
	}
	defer func() {
		for _, p := range group {
			t.in[p] = false
		}
	}()
	group = slices.Clone(group)
	t.sized = slices.Clone(group)
	slices.SortFunc(t.sized, func(a, b int32) int { return cmp.Or(cmp.Compare(t.room[a], t.room[b]), cmp.Compare(a, b)) })
	t.recount(group)
	var parts []branch
	for len(group) > 1 {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		t.m.tell("taking the model apart", float64(len(t.out.Moves))/float64(len(t.in)))
		off, legs, err := t.next(ctx, group)
		if err != nil {
			return nil, err
		}
		undercut := 0.0
		if off == nil {
			if off, legs, undercut, err = t.byUndercut(ctx, group); err != nil {
				return nil, err
			}
		}
		if off == nil {
			t.lock(group)
			break
		}
		rest, restSized := t.without(group, off), t.without(t.sized, off)
		if t.roomOf(off) > t.roomOf(rest) && len(legs) == 1 {
			off, rest, restSized = rest, off, t.without(t.sized, rest)
			legs = geom.Reverse(legs)
		}
		t.out.Moves = append(t.out.Moves, Move{ints(off), ints(rest), legs, undercut})
		t.remove(off)
		if len(off) > 1 {
			// What is measured later is measured for the rest only.
			parts = append(parts, branch{off, slices.Clone(t.graphs[t.shared:])})
		}
		group, t.sized = rest, restSized
	}
	return parts, nil
}

func (t *disassembler) roomOf(list []int32) float64 {
	sum := 0.0
	for _, p := range list {
		sum += t.room[p]
	}
	return sum
}

// recount counts, for each direction and piece of a group, the pieces of the
// group that block it.
func (t *disassembler) recount(group []int32) {
	for _, p := range group {
		t.ways[p], t.best[p], t.cover[p] = 0, bestWay{}, -1
	}
	for d := range t.graphs {
		for _, p := range group {
			n := int32(0)
			for _, b := range t.graphs[d].blockers(p) {
				if t.in[b] {
					n++
				}
			}
			t.count[d][p] = n
			if n == 0 {
				t.ways[p]++
			}
		}
	}
}

func (t *disassembler) remove(off []int32) {
	for _, p := range off {
		t.in[p] = false
		for d := range t.graphs {
			for _, q := range t.graphs[d].blocked(p) {
				if t.count[d][q]--; t.count[d][q] == 0 {
					t.ways[q]++
				}
			}
		}
	}
}

// lock records a group that cannot be taken apart, with which piece holds which.
func (t *disassembler) lock(group []int32) {
	l := Lock{Pieces: ints(group)}
	for _, p := range group {
		for d := range 2 * mainAxes {
			for _, b := range t.graphs[d].blockers(p) {
				if t.in[b] {
					l.Holds = append(l.Holds, Hold{int(p), int(b), t.graphs[d].dir})
					break
				}
			}
		}
	}
	t.out.Locked = append(t.out.Locked, l)
}

func ints(list []int32) []int {
	out := make([]int, len(list))
	for i, p := range list {
		out[i] = int(p)
	}
	slices.Sort(out)
	return out
}
