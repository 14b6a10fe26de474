package printing

import "math"

// rect is a place on the bed, mm.
type rect struct{ x, y, w, d float64 }

// bed packs rectangles by the method of maximal free rectangles (J. Jylanki, "A
// thousand ways to pack the bin", 2010): it keeps all largest rectangles that are
// still free, which may overlap, and puts each new one into a corner of one of them.
// The margin between pieces is part of each piece and of the bed.
type bed struct {
	margin float64
	free   []rect
	widest float64 // bounds of the free rectangles
}

func newBed(w, d, margin float64) *bed {
	b := &bed{margin: margin, free: []rect{{0, 0, w + margin, d + margin}}}
	b.bound()
	return b
}

// measure rates a free rectangle by the width and depth left over in it; less is
// better, the first number counting first.
type measure func(free rect, over [2]float64) [2]float64

// tight leaves as little as possible on one side.
func tight(_ rect, over [2]float64) [2]float64 {
	return [2]float64{min(over[0], over[1]), max(over[0], over[1])}
}

// snug takes the smallest free rectangle.
func snug(free rect, over [2]float64) [2]float64 {
	return [2]float64{free.w * free.d, min(over[0], over[1])}
}

// low goes as near to the front of the bed as possible, then to the left.
func low(free rect, _ [2]float64) [2]float64 { return [2]float64{free.y, free.x} }

// hair is the difference, in mm, below which lengths are equal.
const hair = 1e-6

// spot is where a piece may go on a bed.
type spot struct {
	at      rect // with the margin
	quarter bool // turned by a right angle
	rank    [2]float64
}

func (s *spot) better(o *spot) bool {
	return s.rank[0] < o.rank[0]-hair || s.rank[0] < o.rank[0]+hair && s.rank[1] < o.rank[1]-hair
}

// find looks for the best place for a piece, turned by a right angle if that is
// better.
func (b *bed) find(w, d float64, suits measure) (best spot, ok bool) {
	w, d = w+b.margin, d+b.margin
	best.rank = [2]float64{math.Inf(1), math.Inf(1)}
	if min(w, d) > b.widest+hair {
		return best, false
	}
	for _, f := range b.free {
		for turn, s := range [2][2]float64{{w, d}, {d, w}} {
			over := [2]float64{f.w - s[0], f.d - s[1]}
			if over[0] < -hair || over[1] < -hair {
				continue
			}
			if c := (spot{rect{f.x, f.y, s[0], s[1]}, turn == 1, suits(f, over)}); c.better(&best) {
				best, ok = c, true
			}
		}
	}
	return best, ok
}

// take puts a piece on a spot that was found, and returns where it lies without
// the margin.
func (b *bed) take(s spot) rect {
	b.cut(s.at)
	return rect{s.at.x, s.at.y, s.at.w - b.margin, s.at.d - b.margin}
}

// cut takes a rectangle out of all free ones that it overlaps, leaving up to four
// pieces of each, and drops those within others.
func (b *bed) cut(r rect) {
	var kept, made []rect
	for _, f := range b.free {
		if r.x >= f.x+f.w-hair || r.x+r.w <= f.x+hair || r.y >= f.y+f.d-hair || r.y+r.d <= f.y+hair {
			kept = append(kept, f)
			continue
		}
		for _, n := range [4]rect{
			{f.x, f.y, r.x - f.x, f.d},
			{r.x + r.w, f.y, f.x + f.w - r.x - r.w, f.d},
			{f.x, f.y, f.w, r.y - f.y},
			{f.x, r.y + r.d, f.w, f.y + f.d - r.y - r.d},
		} {
			if n.w > hair && n.d > hair {
				made = append(made, n)
			}
		}
	}
	for i, n := range made {
		if !coveredBy(n, kept) && !coveredBy(n, made[:i]) && !strictly(n, made[i+1:]) {
			kept = append(kept, n)
		}
	}
	b.free = kept
	b.bound()
}

func (r rect) holds(s rect) bool {
	return s.x >= r.x-hair && s.y >= r.y-hair && s.x+s.w <= r.x+r.w+hair && s.y+s.d <= r.y+r.d+hair
}

func coveredBy(r rect, list []rect) bool {
	for _, o := range list {
		if o.holds(r) {
			return true
		}
	}
	return false
}

// strictly reports whether r lies within one of the list that does not lie within
// r, so that one of two equal rectangles stays.
func strictly(r rect, list []rect) bool {
	for _, o := range list {
		if o.holds(r) && !r.holds(o) {
			return true
		}
	}
	return false
}

// bound keeps the widest of the shorter sides, by which most pieces that do not fit
// are rejected at once.
func (b *bed) bound() {
	b.widest = 0
	for _, f := range b.free {
		b.widest = max(b.widest, min(f.w, f.d))
	}
}
