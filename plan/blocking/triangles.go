package blocking

import (
	"context"

	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// triangles gives the triangles of the pieces again and again. Those of small
// pieces are kept. Runs of triangles have boxes, so that a view of a small place
// reads only what may be there.
type triangles struct {
	pieces []*mesh.Mesh
	kept   [][]mesh.Triangle // of each piece; nil if it is read again each time
	runs   [][]runBox        // of each piece
}

// runBox is the box around a run of triangles.
type runBox struct{ min, max [3]float32 }

const (
	runSize   = 256
	mostKept  = 800_000 // triangles: about 29 MB
	keptPiece = 100_000 // of one piece
)

// readTriangles reads all pieces once.
func readTriangles(ctx context.Context, c *workers, pieces []*mesh.Mesh) (*triangles, error) {
	t := &triangles{pieces: pieces, kept: make([][]mesh.Triangle, len(pieces)), runs: make([][]runBox, len(pieces))}
	left := mostKept
	for p, m := range pieces {
		t.runs[p] = make([]runBox, (m.Len()+runSize-1)/runSize)
		if n := m.Len(); n <= keptPiece && n <= left {
			t.kept[p] = make([]mesh.Triangle, n)
			left -= n
		}
	}
	work := slicesOf(pieces, numbers(len(pieces)))
	return t, c.share(ctx, len(work), func(worker, i int) error {
		s := work[i]
		return t.read(worker, c, s, func(at int, block []mesh.Triangle) {
			if t.kept[s.piece] != nil {
				copy(t.kept[s.piece][at:], block)
			}
			for k := 0; k < len(block); k += runSize {
				t.runs[s.piece][(at+k)/runSize] = boxOf(block[k:min(k+runSize, len(block))])
			}
		})
	})
}

func numbers(n int) []int {
	list := make([]int, n)
	for i := range list {
		list[i] = i
	}
	return list
}

// boxOf is the box around some triangles, of which there is at least one.
func boxOf(list []mesh.Triangle) runBox {
	b := runBox{list[0][0], list[0][0]}
	for i := range list {
		for c := range 3 {
			for k, x := range list[i][c] {
				b.min[k], b.max[k] = min(b.min[k], x), max(b.max[k], x)
			}
		}
	}
	return b
}

// read reads a slice from the piece itself, a block at a time.
func (t *triangles) read(worker int, c *workers, s slice, do func(at int, block []mesh.Triangle)) error {
	buf := c.bufs[worker]
	for i := s.from; i < s.to; {
		n, err := t.pieces[s.piece].Read(i, buf[:min(len(buf), s.to-i)])
		if err != nil {
			return err
		}
		do(i, buf[:n])
		i += n
	}
	return nil
}

// blocks calls do with the triangles of a slice, a block at a time. With wanted,
// runs that it rejects are left out.
func (t *triangles) blocks(worker int, c *workers, s slice, wanted func(*runBox) bool, do func([]mesh.Triangle)) error {
	each := func(part slice) error {
		if kept := t.kept[part.piece]; kept != nil {
			do(kept[part.from:part.to])
			return nil
		}
		return t.read(worker, c, part, func(_ int, block []mesh.Triangle) { do(block) })
	}
	if wanted == nil {
		return each(s)
	}
	for i := s.from; i < s.to; {
		if !wanted(&t.runs[s.piece][i/runSize]) {
			i += runSize
			continue
		}
		from := i
		for i < s.to && wanted(&t.runs[s.piece][i/runSize]) {
			i += runSize
		}
		if err := each(slice{s.piece, from, min(i, s.to)}); err != nil {
			return err
		}
	}
	return nil
}

// lines is the columns and rows of a view that a box may meet.
func (s *scan) lines(b *runBox) area {
	var mid, half geom.Vec
	for k := range 3 {
		lo, hi := float64(b.min[k]), float64(b.max[k])
		mid[k], half[k] = (lo+hi)/2, (hi-lo)/2
	}
	u, v := mid.Dot(s.u)-s.u0, mid.Dot(s.v)-s.v0
	du, dv := spread(half, s.u), spread(half, s.v)
	return area{above(max(u-du, 0)) - 1, above(max(v-dv, 0)) - 1, above(u+du) + 1, above(v+dv) + 1}
}

// spread is how far a box of the given half sides reaches along a direction.
func spread(half, d geom.Vec) float64 {
	sum := 0.0
	for k := range 3 {
		sum += half[k] * max(d[k], -d[k])
	}
	return sum
}
