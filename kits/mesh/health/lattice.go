package health

// lattice rounds coordinates to about a millionth of a surface, so that a box fits into two
// words and two boxes are compared by a few operations on them: most of the time that
// health takes goes into that. Equal coordinates stay equal, so boxes that only touch still
// do.
type lattice struct{ origin, per [3]float32 }

// A word holds three coordinates of laneBits, each below a guard bit.
const (
	laneBits = 20
	laneStep = laneBits + 1
	margin   = 2 // steps by which a thin box is thickened; its coordinates keep it from the ends of a lane
	ones     = 1 | 1<<laneStep | 1<<(2*laneStep)
	guards   = ones << laneBits
)

func newLattice(all *box3) (l lattice) {
	l.origin = all.min
	for k := range 3 {
		if d := all.max[k] - all.min[k]; d > 1e-30 { // less has no inverse
			l.per[k] = (1<<laneBits - 1 - 2*margin) / d
		}
	}
	return l
}

// packed is a box: the words of its lower corner plus one step, and of its upper corner with
// all guards set.
type packed struct{ min, max uint64 }

// overlaps reports whether boxes share more than their rims: in no lane does the
// difference use up the guard.
func (b packed) overlaps(o packed) bool {
	return (b.max-o.min)&(o.max-b.min)&guards == guards
}

// word is a position in the lattice.
func (l *lattice) word(p *[3]float32) (w uint64) {
	for k := range 3 {
		w |= (uint64((p[k]-l.origin[k])*l.per[k]+0.5) + margin) << (laneStep * k)
	}
	return w
}

// span is the box of three words, thickened along axes across which it is thin: triangles in
// one plane across an axis share more than the rims of their boxes if they cover each other,
// and neighbours in it do not.
func span(a, b, c uint64) packed {
	less := lanesLess(a, b)
	low, high := pick(a, b, less), pick(b, a, less)
	low, high = pick(low, c, lanesLess(low, c)), pick(c, high, lanesLess(high, c))
	thick := (high - low + guards - 2*ones) & guards // lanes with at least two steps
	more := (thick ^ guards) >> laneBits * margin
	return packed{low - more + ones, high + more | guards}
}

// noBox is around nothing.
var noBox = packed{guards - ones, guards}

// join is the box around both.
func (b packed) join(o packed) packed {
	return packed{pick(b.min, o.min, lanesLess(b.min, o.min)), pick(o.max, b.max, lanesLess(b.max&^guards, o.max&^guards))}
}

// lanesLess has all bits below the guard set in the lanes where a is less than b.
func lanesLess(a, b uint64) uint64 {
	less := ((a|guards)-b)&guards ^ guards
	return less - less>>laneBits
}

// pick takes the lanes of a where they are asked for, and of b elsewhere.
func pick(a, b, lanes uint64) uint64 { return b ^ (a^b)&lanes }
