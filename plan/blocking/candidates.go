package blocking

import (
	"context"
	"slices"
)

// candidates is the pairs of pieces that share a tile of a view, and what is known
// of them. Those of piece p, with a higher number, are hi[start[p]:start[p+1]].
type candidates struct {
	start []int32
	hi    []int32
	found []uint8 // bits accepted
	clash []bool  // they may overlap
}

// index is where a pair is, lo < hi; -1 if it shares no tile.
func (c *candidates) index(lo, hi int32) int32 {
	i, found := slices.BinarySearch(c.hi[c.start[lo]:c.start[lo+1]], hi)
	if !found {
		return -1
	}
	return c.start[lo] + int32(i)
}

// presence lists the pieces in each tile: those of tile t, by number, are
// list[start[t]:start[t+1]].
type presence struct {
	cols  int
	start []int32
	list  []int32
}

func (p *presence) in(tile int) []int32 { return p.list[p.start[tile]:p.start[tile+1]] }

// presenceOf is where pieces are, from their footprints.
func presenceOf(v *view, size int, prints []*footprint) *presence {
	p := &presence{cols: v.cols/size + 1}
	p.start = make([]int32, p.cols*(v.rows/size+1)+2)
	each := func(do func(piece int32, tile int)) {
		for piece, f := range prints {
			if f == nil {
				continue
			}
			for y := f.y0; y < f.y1; y++ {
				for x := f.x0; x < f.x1; x++ {
					if e := f.at(x, y); !e.empty() {
						do(int32(piece), y*p.cols+x)
					}
				}
			}
		}
	}
	each(func(_ int32, tile int) { p.start[tile+2]++ })
	for i := 1; i < len(p.start); i++ {
		p.start[i] += p.start[i-1]
	}
	p.list = make([]int32, p.start[len(p.start)-1])
	each(func(piece int32, tile int) {
		p.list[p.start[tile+1]] = piece
		p.start[tile+1]++
	})
	return p
}

// candidates lists the pairs that share a tile. If only is not nil, pairs with
// neither piece marked in it are left out.
func (m *Model) candidates(ctx context.Context, prints []*footprint, in *presence, only []bool) (*candidates, error) {
	partners := make([][]int32, len(m.Pieces))
	seen := make([][]int32, m.workers.size()) // by piece: the last one it was a partner of, plus one
	for i := range seen {
		seen[i] = make([]int32, len(m.Pieces))
	}
	err := m.workers.share(ctx, len(m.Pieces), func(worker, lo int) error {
		f := prints[lo]
		if f == nil {
			return nil
		}
		mark := seen[worker]
		for y := f.y0; y < f.y1; y++ {
			for x := f.x0; x < f.x1; x++ {
				if e := f.at(x, y); e.empty() {
					continue
				}
				for _, hi := range in.in(y*in.cols + x) {
					if int(hi) > lo && mark[hi] != int32(lo+1) && (only == nil || only[lo] || only[hi]) {
						mark[hi] = int32(lo + 1)
						partners[lo] = append(partners[lo], hi)
					}
				}
			}
		}
		slices.Sort(partners[lo])
		return nil
	})
	c := &candidates{start: make([]int32, len(m.Pieces)+1)}
	for lo, list := range partners {
		c.start[lo+1] = c.start[lo] + int32(len(list))
		c.hi = append(c.hi, list...)
	}
	c.found = make([]uint8, len(c.hi))
	c.clash = make([]bool, len(c.hi))
	m.mayClash(c)
	return c, err
}

// mayClash marks the pairs that may overlap. Along the main axes nothing is
// known yet. Along the others only those may that a line along a main axis found to
// share a depth: whatever overlaps by more than what counts as touching is wider
// than the pitch across one of these three.
func (m *Model) mayClash(c *candidates) {
	if len(m.axes) < mainAxes {
		for i := range c.clash {
			c.clash[i] = true
		}
		return
	}
	for i := range mainAxes {
		for _, s := range m.axes[i].list {
			if s.volume == 0 {
				continue
			}
			if at := c.index(s.lo, s.hi); at >= 0 {
				c.clash[at] = true
			}
		}
	}
}
