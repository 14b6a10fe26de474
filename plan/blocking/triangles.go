package blocking

import (
	"context"

	"dryfit/kits/mesh"
)

// triangles gives the triangles of the pieces again and again. Those of small
// pieces are kept. Of runs of triangles it is known where they are, so that a view of
// a small place reads only what may be there.
type triangles struct {
	pieces []*mesh.Mesh
	kept   [][]mesh.Triangle // of each piece; nil if it is read again each time
	runs   [][]run           // of each piece
}

const (
	mostKept  = 800_000 // triangles: about 29 MB
	keptPiece = 100_000 // of one piece
	mostGap   = 256     // triangles read for nothing rather than reading twice
)

// readTriangles reads all pieces once.
func readTriangles(ctx context.Context, c *workers, pieces []*mesh.Mesh) (*triangles, error) {
	t := &triangles{pieces: pieces, kept: make([][]mesh.Triangle, len(pieces)), runs: make([][]run, len(pieces))}
	left := mostKept
	for p, m := range pieces {
		t.runs[p] = make([]run, (m.Len()+runSize-1)/runSize)
		if n := m.Len(); n <= keptPiece && n <= left {
			t.kept[p] = make([]mesh.Triangle, n)
			left -= n
		}
	}
	work := slicesOf(pieces, numbers(len(pieces)))
	return t, c.share(ctx, len(work), func(worker, i int) error {
		s := work[i]
		return c.read(worker, pieces[s.piece], s, func(at int, block []mesh.Triangle) {
			if t.kept[s.piece] != nil {
				copy(t.kept[s.piece][at:], block)
			}
			for k := 0; k < len(block); k += runSize {
				t.runs[s.piece][(at+k)/runSize] = runOf(block[k:min(k+runSize, len(block))])
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

// read reads a slice from its piece, a block at a time.
func (c *workers) read(worker int, m *mesh.Mesh, s slice, do func(at int, block []mesh.Triangle)) error {
	buf := c.bufs[worker]
	for i := s.from; i < s.to; {
		n, err := m.Read(i, buf[:min(len(buf), s.to-i)])
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
func (t *triangles) blocks(worker int, c *workers, s slice, wanted func(*run) bool, do func([]mesh.Triangle)) error {
	parts := []slice{s}
	if wanted != nil {
		parts = t.wanted(s, wanted)
	}
	if kept := t.kept[s.piece]; kept != nil {
		for _, part := range parts {
			do(kept[part.from:part.to])
		}
		return nil
	}
	if len(parts) == 0 {
		return nil
	}
	m, file, err := t.pieces[s.piece].Open()
	if err != nil {
		return err
	}
	defer file.Close()
	for len(parts) > 0 {
		n := 1
		for n < len(parts) && parts[n].from-parts[n-1].to <= mostGap {
			n++
		}
		near := parts[:n]
		parts = parts[n:]
		err := c.read(worker, m, slice{s.piece, near[0].from, near[n-1].to}, func(at int, block []mesh.Triangle) {
			for _, part := range near {
				if from, to := max(part.from-at, 0), min(part.to-at, len(block)); from < to {
					do(block[from:to])
				}
			}
		})
		if err != nil {
			return err
		}
	}
	return nil
}

// wanted lists the parts of a slice of which every run is wanted.
func (t *triangles) wanted(s slice, wanted func(*run) bool) []slice {
	var list []slice
	for i := s.from; i < s.to; i += runSize {
		if !wanted(&t.runs[s.piece][i/runSize]) {
			continue
		}
		end := min(i+runSize, s.to)
		if n := len(list); n > 0 && list[n-1].to == i {
			list[n-1].to = end
		} else {
			list = append(list, slice{s.piece, i, end})
		}
	}
	return list
}
