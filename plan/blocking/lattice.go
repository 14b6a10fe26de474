package blocking

// lattice says which lines of a view are sampled. It repeats along both ways.
type lattice struct {
	first []int // of each row of a period: its first line, or -1 if it has none
	step  int   // from one line of a row to the next
	run   int   // neighbouring lines sampled at each
}

// rowOf is the first line of row y, and -1 if it has none.
func (l *lattice) rowOf(y int) int { return l.first[y%len(l.first)] }

// next is the first line at or after x of a row that begins with first.
func (l *lattice) next(first, x int) int {
	if l.step == 1 {
		return x
	}
	return x + (first-x%l.step+l.step)%l.step
}

// meets reports whether any of its lines are in an area.
func (l *lattice) meets(a area) bool {
	if len(l.first) == 1 {
		return true
	}
	for y := a.y0; y < min(a.y1, a.y0+len(l.first)); y++ {
		if first := l.rowOf(y); first >= 0 && l.next(first, max(a.x0-l.run+1, 0)) < a.x1 {
			return true
		}
	}
	return false
}

// everyLine samples all lines.
var everyLine = lattice{[]int{0}, 1, 1}

// probe samples two by two lines in the middle of each tile of the first look.
func probe() lattice {
	l := lattice{make([]int, lookSize), lookSize, 2}
	for y := range l.first {
		l.first[y] = -1
	}
	l.first[lookSize/2-1], l.first[lookSize/2] = lookSize/2-1, lookSize/2-1
	return l
}

// patch is a set of neighbouring lines that must agree, given by their offsets
// from the middle one, with a lattice that meets every such set exactly once.
type patch struct {
	offsets [][2]int
	lattice
}

// square is three by three lines, cross the middle one of these with the four
// beside it.
var (
	square = patch{[][2]int{{-1, -1}, {0, -1}, {1, -1}, {-1, 0}, {0, 0}, {1, 0}, {-1, 1}, {0, 1}, {1, 1}},
		lattice{[]int{0, -1, -1}, 3, 1}}
	cross = patch{[][2]int{{0, -1}, {-1, 0}, {0, 0}, {1, 0}, {0, 1}},
		lattice{[]int{0, 3, 1, 4, 2}, 5, 1}}
)
