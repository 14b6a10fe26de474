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

// pack packs a box, and thickens it along axes across which it is thin: triangles in one
// plane across an axis share more than the rims of their boxes if they cover each other, and
// neighbours in it do not.
func (l *lattice) pack(b *box3) (p packed) {
	for k := range 3 {
		low := uint64((b.min[k]-l.origin[k])*l.per[k]+0.5) + margin
		high := uint64((b.max[k]-l.origin[k])*l.per[k]+0.5) + margin
		if high-low <= 1 {
			low, high = low-margin, high+margin
		}
		p.min |= low << (laneStep * k)
		p.max |= high << (laneStep * k)
	}
	return packed{p.min + ones, p.max | guards}
}
