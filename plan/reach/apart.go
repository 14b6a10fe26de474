package reach

import (
	"context"
	"errors"
	"math"
	"slices"
)

// Apart is a model taken apart.
type Apart struct {
	// Moves in the sequence of taking apart. Built the other way round, each move is
	// a step of the assembly.
	Moves  []Move
	Locked []Lock
}

// Move takes pieces away from a group.
type Move struct {
	Pieces []int // that leave, together
	Rest   []int // of the group, that they leave from
	Legs   []Leg // one after the other; mostly a single one
	// Undercut is the width in mm of undercuts that the move passes over: a thread, or
	// a snap. 0 for a move that is free.
	Undercut float64
}

// Leg is a straight stretch of a way, without turning.
type Leg struct {
	Toward   vec     // of length 1
	Distance float64 // mm; infinite for the last
}

// Lock is a group that no move found takes apart.
type Lock struct {
	Pieces []int
	Holds  []Hold
}

// Hold says that one piece of a locked group keeps another from leaving along a
// direction.
type Hold struct {
	Piece, By int
	Direction vec
}

// TakeApart takes the model apart with clashes set aside: where two pieces overlap,
// the one whose middle lies further along is taken to be further along.
func (m *Model) TakeApart(ctx context.Context) (*Apart, error) { return m.takeApart(ctx, false) }

// TakeApartStrictly takes the model apart with pieces that clash held fast to each
// other.
func (m *Model) TakeApartStrictly(ctx context.Context) (*Apart, error) { return m.takeApart(ctx, true) }

// takeApart takes the model apart and looks closer along each move. What is found
// in the way then is kept, and the model taken apart anew.
func (m *Model) takeApart(ctx context.Context, strict bool) (*Apart, error) {
	for range maxRounds {
		apart, err := m.takeApartOnce(ctx, strict)
		if err != nil {
			return nil, err
		}
		more, err := m.verify(ctx, apart)
		if err != nil {
			return nil, err
		}
		if !more {
			return apart, nil
		}
	}
	return nil, errors.New("the closer looks along the moves do not come to an end; give a finer pitch")
}

// maxRounds bounds how often a model is taken apart anew. Each round but the last
// finds at least one more pair in each other's way.
const maxRounds = 50

func (m *Model) takeApartOnce(ctx context.Context, strict bool) (*Apart, error) {
	t := newTaker(m, strict)
	full := len(t.graphs)
	groups := []branch{{t.all(), nil}}
	for len(groups) > 0 {
		b := groups[len(groups)-1]
		groups = groups[:len(groups)-1]
		if len(b.group) < 2 {
			continue
		}
		// Only the graphs of axes that this group has been looked at along count.
		t.graphs, t.count = append(t.graphs[:full:full], b.graphs...), t.count[:full]
		for range b.graphs {
			t.count = append(t.count, make([]int32, len(m.Pieces)))
		}
		parts, err := t.split(ctx, b.group)
		if err != nil {
			return nil, err
		}
		for _, p := range parts {
			groups = append(groups, branch{p, slices.Clone(t.graphs[full:])})
		}
	}
	return t.out, nil
}

// branch is a group to take apart, and the graphs that are its own.
type branch struct {
	group  []int32
	graphs []graph
}

// taker takes groups of pieces apart. Blocking is a relation of pairs, so whatever
// is taken off first, the rest is never harder to take apart.
type taker struct {
	m      *Model
	strict bool
	graphs []graph
	touch  [][]int32
	room   []float64 // of each piece: volume of its box

	in     []bool    // pieces of the group at hand
	count  [][]int32 // direction, piece: how many of the group are in its way
	mark   []int32   // scratch of together
	marks  int32
	looked int // groups looked at along axes of their own
	out    *Apart
}

func newTaker(m *Model, strict bool) *taker {
	n := len(m.Pieces)
	t := &taker{m: m, strict: strict, in: make([]bool, n), mark: make([]int32, n), touch: make([][]int32, n), out: &Apart{}}
	for i := range m.axes {
		t.addAxis(&m.axes[i])
	}
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

func (t *taker) addAxis(a *axis) {
	g := t.m.graphs(a, t.strict)
	t.graphs = append(t.graphs, g[:]...)
	t.count = append(t.count, make([]int32, len(t.m.Pieces)), make([]int32, len(t.m.Pieces)))
}

func (t *taker) all() []int32 {
	var list []int32
	for _, p := range t.m.all() {
		list = append(list, int32(p))
	}
	return list
}

// split takes pieces off a group until one is left, and returns the groups that
// were taken off together, to be taken apart in turn.
func (t *taker) split(ctx context.Context, group []int32) ([][]int32, error) {
	for _, p := range group {
		t.in[p] = true
	}
	defer func() {
		for _, p := range group {
			t.in[p] = false
		}
	}()
	t.recount(group)
	var parts [][]int32
	group = slices.Clone(group)
	for len(group) > 1 {
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
		rest := slices.DeleteFunc(slices.Clone(group), func(p int32) bool { return slices.Contains(off, p) })
		if t.roomOf(off) > t.roomOf(rest) && len(legs) == 1 {
			off, rest = rest, off
			legs = []Leg{{opposite(legs[0].Toward), legs[0].Distance}}
		}
		t.out.Moves = append(t.out.Moves, Move{ints(off), ints(rest), legs, undercut})
		t.remove(off)
		if len(off) > 1 {
			parts = append(parts, off)
		}
		group = rest
	}
	return parts, nil
}

func (t *taker) roomOf(list []int32) float64 {
	sum := 0.0
	for _, p := range list {
		sum += t.room[p]
	}
	return sum
}

// recount counts, for each direction, what of a group is in each piece's way.
func (t *taker) recount(group []int32) {
	for d := range t.graphs {
		for _, p := range group {
			n := int32(0)
			for _, b := range t.graphs[d].blockers(p) {
				if t.in[b] {
					n++
				}
			}
			t.count[d][p] = n
		}
	}
}

func (t *taker) remove(off []int32) {
	for _, p := range off {
		t.in[p] = false
		for d := range t.graphs {
			for _, q := range t.graphs[d].blocked(p) {
				t.count[d][q]--
			}
		}
	}
}

// next chooses what leaves a group next, and how. In this sequence: a piece that
// can leave in many directions, and leaves the rest together; a piece with what
// would be left hanging without it; one that can hardly leave; a group; a piece
// along several legs.
func (t *taker) next(ctx context.Context, group []int32) ([]int32, []Leg, error) {
	if off, d := t.single(group); off != nil {
		return off, t.leg(d), nil
	}
	if off, _ := t.group(group); off != nil {
		return off, t.leg(t.wayOf(off)), nil
	}
	more, err := t.ownAxes(ctx, group)
	if err != nil {
		return nil, nil, err
	}
	if more {
		return t.next(ctx, group)
	}
	return t.byLegs(ctx, group)
}

func (t *taker) leg(d int) []Leg { return []Leg{{t.graphs[d].dir, math.Inf(1)}} }

// manyWays is in how many of the directions a piece is free that lies open.
const manyWays = 3

// candidate is a piece that could leave by itself.
type candidate struct {
	piece int32
	ways  int
	// covered: it can hardly leave, and lies within the outline of another that can
	// leave by itself, such as an engine in its cowling: what covers comes off first.
	covered bool
}

// findCovered marks the candidates that others cover, seen along their way out.
func (t *taker) findCovered(list []candidate) {
	for i := range list {
		a := &list[i]
		if a.ways >= manyWays {
			continue
		}
		out := t.graphs[t.bestWay(a.piece)].dir
		for k := range list {
			if k != i && list[k].ways < manyWays && t.covers(list[k].piece, a.piece, out) {
				a.covered = true
			}
		}
	}
}

// covers reports whether the box of a piece has that of another within it, seen along
// a direction, and lies no further back.
func (t *taker) covers(outer, inner int32, out vec) bool {
	u, v := across(out)
	for _, axis := range []vec{u, v} {
		lowA, highA := t.m.extent(int(outer), axis)
		lowB, highB := t.m.extent(int(inner), axis)
		if lowB < lowA || highB > highA {
			return false
		}
	}
	_, frontA := t.m.extent(int(outer), out)
	backB, _ := t.m.extent(int(inner), out)
	return frontA > backB && t.room[outer] > t.room[inner]
}

// single finds a piece that can leave by itself, or with what hangs on it.
func (t *taker) single(group []int32) ([]int32, int) {
	var list []candidate
	for _, p := range group {
		ways := 0
		for d := range t.graphs {
			if t.count[d][p] == 0 {
				ways++
			}
		}
		if ways > 0 {
			list = append(list, candidate{piece: p, ways: ways})
		}
	}
	t.findCovered(list)
	slices.SortFunc(list, func(a, b candidate) int {
		openA, openB := a.ways >= manyWays, b.ways >= manyWays
		switch {
		case openA != openB:
			return b.ways - a.ways
		case a.covered != b.covered:
			if a.covered {
				return 1
			}
			return -1
		case t.room[a.piece] != t.room[b.piece]:
			if t.room[a.piece] < t.room[b.piece] {
				return -1
			}
			return 1
		}
		return int(a.piece - b.piece)
	})
	var hanging []int32
	hangingWay := -1
	for _, c := range list {
		left := t.leftHanging(c.piece, group)
		if len(left) == 0 {
			return []int32{c.piece}, t.bestWay(c.piece)
		}
		if hanging != nil {
			continue
		}
		off := append([]int32{c.piece}, left...)
		if d := t.wayOf(off); d >= 0 {
			hanging, hangingWay = off, d
		}
	}
	if hanging != nil {
		return hanging, hangingWay
	}
	if len(list) > 0 {
		return []int32{list[0].piece}, t.bestWay(list[0].piece)
	}
	return nil, -1
}

// bestWay is the direction in the middle of those in which a piece is free: straight
// off what it lies against.
func (t *taker) bestWay(p int32) int {
	var free []int
	for d := range t.graphs {
		if t.count[d][p] == 0 {
			free = append(free, d)
		}
	}
	return t.middle(free)
}

// wayOf is the direction in the middle of those in which pieces of the group can leave
// together, or -1.
func (t *taker) wayOf(off []int32) int {
	t.marks++
	for _, p := range off {
		t.mark[p] = t.marks
	}
	var free []int
	for d := range t.graphs {
		if t.clear(off, d) {
			free = append(free, d)
		}
	}
	return t.middle(free)
}

// clear reports whether only marked pieces are in the way of marked ones.
func (t *taker) clear(off []int32, d int) bool {
	for _, p := range off {
		for _, b := range t.graphs[d].blockers(p) {
			if t.in[b] && t.mark[b] != t.marks {
				return false
			}
		}
	}
	return true
}

// plainer is by how much a direction along an axis of the model is liked better.
const plainer = 1.3

// middle is the direction nearest to the sum of some, or one along an axis of the
// model that is nearly so; of those as near, the first. -1 if there are none.
func (t *taker) middle(free []int) int {
	var sum vec
	for _, d := range free {
		sum = add(sum, t.graphs[d].dir)
	}
	best, most := -1, math.Inf(-1)
	for _, d := range free {
		near := dot(sum, t.graphs[d].dir)
		if d < 2*mainAxes {
			near *= plainer
		}
		if near > most+1e-9 {
			best, most = d, near
		}
	}
	return best
}

// leftHanging lists the pieces that touch nothing of the rest any more, directly or
// through others, once p is gone; of several parts that fall asunder the roomiest
// is the rest.
func (t *taker) leftHanging(p int32, group []int32) []int32 {
	var around []int32
	for _, q := range t.touch[p] {
		if t.in[q] {
			around = append(around, q)
		}
	}
	if len(around) < 2 {
		return nil
	}
	var parts [][]int32
	t.marks++
	t.mark[p] = t.marks
	for _, q := range around {
		if t.mark[q] == t.marks {
			continue
		}
		part := t.reach(q)
		if len(parts) == 0 && t.holdsAll(around) {
			return nil
		}
		parts = append(parts, part)
	}
	rest := 0
	for i := range parts {
		if t.roomOf(parts[i]) > t.roomOf(parts[rest]) {
			rest = i
		}
	}
	var hanging []int32
	for i, part := range parts {
		if i != rest {
			hanging = append(hanging, part...)
		}
	}
	slices.Sort(hanging)
	return hanging
}

func (t *taker) holdsAll(list []int32) bool {
	for _, q := range list {
		if t.mark[q] != t.marks {
			return false
		}
	}
	return true
}

// reach marks and lists the pieces of the group that touch q, directly or through
// others that are not marked.
func (t *taker) reach(q int32) []int32 {
	t.mark[q] = t.marks
	list := []int32{q}
	for i := 0; i < len(list); i++ {
		for _, r := range t.touch[list[i]] {
			if t.in[r] && t.mark[r] != t.marks {
				t.mark[r] = t.marks
				list = append(list, r)
			}
		}
	}
	return list
}

// group finds the smallest set of pieces that can leave together, one that holds
// together if there is one.
func (t *taker) group(group []int32) ([]int32, int) {
	together := map[*int32]bool{}
	holds := func(c []int32) bool {
		h, known := together[&c[0]]
		if !known {
			h = t.together(c)
			together[&c[0]] = h
		}
		return h
	}
	better := func(a, b []int32) bool {
		if ha, hb := holds(a), holds(b); ha != hb {
			return ha
		}
		if len(a) != len(b) {
			return len(a) < len(b)
		}
		return slices.Compare(a, b) < 0
	}
	var best []int32
	way := -1
	for d := range t.graphs {
		c := t.graphs[d].sink(group, t.in, better)
		if c == nil {
			continue
		}
		slices.Sort(c)
		if best == nil || better(c, best) {
			best, way = c, d
		}
	}
	return best, way
}

// together reports whether pieces hold together by touching.
func (t *taker) together(list []int32) bool {
	in := map[int32]bool{}
	for _, p := range list {
		in[p] = true
	}
	seen := map[int32]bool{list[0]: true}
	queue := []int32{list[0]}
	for len(queue) > 0 {
		p := queue[0]
		queue = queue[1:]
		for _, q := range t.touch[p] {
			if in[q] && !seen[q] {
				seen[q] = true
				queue = append(queue, q)
			}
		}
	}
	return len(seen) == len(list)
}

// ownAxes looks at a group that is stuck along the axes its own shapes suggest. It
// reports whether there were any.
func (t *taker) ownAxes(ctx context.Context, group []int32) (bool, error) {
	if t.looked++; t.looked > maxLooks {
		return false, nil
	}
	own, err := ownAxes(t.m.Pieces, ints(group), 0, stuckAxes)
	if err != nil {
		return false, err
	}
	known := make([]vec, len(t.graphs)/2)
	for i := range known {
		known[i] = t.graphs[2*i].dir
	}
	fresh := addAxes(slices.Clone(known), own...)[len(known):]
	for _, w := range fresh {
		a, err := t.m.forSome(ctx, w, ints(group))
		if err != nil {
			return false, err
		}
		t.addAxis(a)
	}
	if len(fresh) > 0 {
		t.recount(group)
	}
	return len(fresh) > 0, nil
}

// maxLooks bounds the groups that are looked at along axes of their own.
const maxLooks = 500

// lock records a group that cannot be taken apart, with who holds whom.
func (t *taker) lock(group []int32) {
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
