package draw

import (
	"math"

	"dryfit/graphviz/picture"
)

// strokes are the visible lines of a thing on the picture, in pixels: its outline,
// where the surface turns away, and its bends.
type strokes struct{ outline, bends [][]picture.Point }

// fragment is a part of an edge that can be seen. An end at a corner of the body has the
// number of the corner, any other has -1.
type fragment struct {
	from, to dotted
	i, j     int32
}

// strokes finds the visible lines of things that have been added to the buffer.
func (b *buffer) strokes(things ...thing) (all strokes) {
	for _, t := range things {
		s := b.strokesOf(t)
		all.outline, all.bends = append(all.outline, s.outline...), append(all.bends, s.bends...)
	}
	return all
}

func (b *buffer) strokesOf(t thing) strokes {
	corners := b.dots(t)
	front := b.front(t.body, corners)
	var outline, bends []fragment
	n, parts := len(t.body.edges), 16
	if n < smallBody {
		parts = 1
	}
	found := make([][2][]fragment, parts)
	shared(parts, func(from, to int) {
		for i := from; i < to; i++ {
			found[i][0], found[i][1] = b.seen(t.body, corners, front, n*i/parts, n*(i+1)/parts)
		}
	})
	for _, f := range found {
		outline, bends = append(outline, f[0]...), append(bends, f[1]...)
	}
	return strokes{chains(outline), chains(bends)}
}

// front marks the triangles that face the eye.
func (b *buffer) front(body *Body, corners []dotted) []bool {
	list := make([]bool, len(body.triangles))
	for i, c := range body.triangles {
		list[i] = facing(corners[c[0]], corners[c[1]], corners[c[2]]) > 0
	}
	return list
}

// seen finds the visible fragments of a range of edges.
func (b *buffer) seen(body *Body, corners []dotted, front []bool, first, last int) (outline, bends []fragment) {
	for _, e := range body.edges[first:last] {
		rim := e.b < 0 || front[e.a] != front[e.b]
		if !rim && (!e.sharp || !front[e.a] && body.closed) {
			continue
		}
		list := &bends
		if rim {
			list = &outline
		}
		*list = b.fragments(*list, corners[e.from], corners[e.to], e.from, e.to)
	}
	return outline, bends
}

// fragments looks along an edge, a pixel at a time, for what is not behind something.
// Of an edge that is longer than the picture only the part in it is looked along.
func (b *buffer) fragments(list []fragment, p, q dotted, i, j int32) []fragment {
	first, last := b.clip(p, q)
	if first > last {
		return list
	}
	at := func(s float64) dotted {
		return dotted{p.x + float32(s*float64(q.x-p.x)), p.y + float32(s*float64(q.y-p.y)), p.d + float32(s*float64(q.d-p.d))}
	}
	pixels := (last - first) * math.Hypot(float64(q.x-p.x), float64(q.y-p.y))
	n := max(1, int(math.Ceil(pixels)))
	along := func(k float64) float64 { return first + (last-first)*k/float64(n) }
	start := -1
	for k := 0; k <= n; k++ {
		visible := k < n && b.shows(at(along(float64(k)+0.5)))
		switch {
		case visible && start < 0:
			start = k
		case !visible && start >= 0:
			r := fragment{at(along(float64(start))), at(along(float64(k))), -1, -1}
			if start == 0 && first == 0 {
				r.i = i
			}
			if k == n && last == 1 {
				r.j = j
			}
			if k-start > 1 || n <= 2 {
				list = append(list, r)
			}
			start = -1
		}
	}
	return list
}

// clip is where an edge, from 0 to 1, enters the picture and where it leaves it; first
// is above last if it is never in it (Liang and Barsky, "A new concept and method for
// line clipping", ACM Transactions on Graphics 3 (1984)).
func (b *buffer) clip(p, q dotted) (first, last float64) {
	first, last = 0, 1
	for _, c := range [2][3]float64{
		{float64(p.x), float64(q.x), float64(b.width)},
		{float64(p.y), float64(q.y), float64(b.height)},
	} {
		from, way, end := c[0], c[1]-c[0], c[2]
		if way == 0 {
			if from < 0 || from >= end {
				return 1, 0
			}
			continue
		}
		in, out := -from/way, (end-from)/way
		first, last = max(first, min(in, out)), min(last, max(in, out))
	}
	return first, last
}

// slack is how much farther than the surface, in pixels, a line may lie and still be
// seen: lines lie in surfaces, and pixels have their middles beside them.
const slack = 1.5

// shows reports whether a point is not behind something. The farthest of a pixel and
// its neighbours counts, or outlines would flicker.
func (b *buffer) shows(p dotted) bool {
	ix, iy := int(math.Floor(float64(p.x))), int(math.Floor(float64(p.y)))
	if ix < 0 || iy < 0 || ix >= b.width || iy >= b.height {
		return false
	}
	at := iy*b.width + ix
	far := b.depth[at]
	if ix > 0 {
		far = max(far, b.depth[at-1])
	}
	if ix+1 < b.width {
		far = max(far, b.depth[at+1])
	}
	if iy > 0 {
		far = max(far, b.depth[at-b.width])
	}
	if iy+1 < b.height {
		far = max(far, b.depth[at+b.width])
	}
	return p.d <= far+float32(slack/b.scale)
}
