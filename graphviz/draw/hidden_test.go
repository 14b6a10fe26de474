package draw

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"dryfit/graphviz/picture"
	"dryfit/kits/geom"
	"dryfit/kits/kitstest"
	"dryfit/kits/mesh/meshtest"
)

// stretch is a part of an edge, from 0 at its start to 1 at its end.
type stretch struct{ from, to float64 }

// hidden is the part of a line that a convex solid hides from an eye that looks ahead.
// What a convex solid hides is convex too: it lies behind all faces that look at the
// eye, and within all planes that stand on the solid's outline along the view. Each
// plane is moved so that, with a positive margin, only those places are left round
// which a disc of that radius is hidden by more than that depth; with a negative one
// all but those are left round which no place of such a disc is hidden or nearly so.
func (s *solid) hidden(p, q, ahead geom.Vec, margin float64) (stretch, bool) {
	part := stretch{0, 1}
	for _, f := range s.shade(ahead) {
		depth := math.Abs(f.normal.Dot(ahead))
		at := f.at - margin*(depth+math.Sqrt(max(0, 1-depth*depth)))
		a, b := f.normal.Dot(p)-at, f.normal.Dot(q)-at
		switch {
		case a >= 0 && b >= 0:
			return part, false
		case a >= 0:
			part.from = max(part.from, a/(a-b))
		case b >= 0:
			part.to = min(part.to, a/(a-b))
		}
	}
	return part, part.from < part.to
}

// shade is the planes round all that a solid hides.
func (s *solid) shade(ahead geom.Vec) []face {
	var list []face
	for _, f := range s.faces {
		if f.normal.Dot(ahead) < 0 {
			list = append(list, f)
		}
	}
	middle := s.centre()
	for _, e := range s.edges {
		if s.faces[e.a].front(ahead) != s.faces[e.b].front(ahead) {
			out := e.to.Minus(e.from).Cross(ahead).Unit()
			if out.Dot(middle) > out.Dot(e.from) {
				out = out.Times(-1)
			}
			list = append(list, face{out, out.Dot(e.from)})
		}
	}
	return list
}

func (f face) front(ahead geom.Vec) bool { return f.normal.Dot(ahead) < 0 }

// free is what remains of an edge when the solids other than its own have hidden theirs.
func free(scene []*solid, own int, e ridge, ahead geom.Vec, margin float64) []stretch {
	var gone []stretch
	for i, s := range scene {
		if i == own {
			continue
		}
		if h, ok := s.hidden(e.from, e.to, ahead, margin); ok {
			gone = append(gone, h)
		}
	}
	slices.SortFunc(gone, func(a, b stretch) int {
		if a.from < b.from {
			return -1
		}
		return 1
	})
	var left []stretch
	at := 0.0
	for _, h := range append(gone, stretch{1, 1}) {
		if h.from > at {
			left = append(left, stretch{at, h.from})
		}
		at = max(at, h.to)
	}
	return left
}

// segment is a piece of line on the picture, in pixels.
type segment struct{ from, to picture.Point }

func (s segment) length() float64 { return distance(s.from, s.to) }

func total(list []segment) float64 {
	sum := 0.0
	for _, s := range list {
		sum += s.length()
	}
	return sum
}

// drawn are the segments of lines.
func drawn(lines [][]picture.Point) []segment {
	var list []segment
	for _, l := range lines {
		for i := 1; i < len(l); i++ {
			list = append(list, segment{l[i-1], l[i]})
		}
	}
	return list
}

// strayed is the first place on some segments that is farther from all of the others
// than allowed, or where none of them runs the same way.
func strayed(list, others []segment, allowed float64) (picture.Point, bool) {
	for _, s := range list {
		n := int(math.Ceil(s.length() / 0.5))
		for k := 0; k <= n; k++ {
			w := float64(k) / float64(max(n, 1))
			p := picture.Point{s.from[0] + w*(s.to[0]-s.from[0]), s.from[1] + w*(s.to[1]-s.from[1])}
			if !slices.ContainsFunc(others, func(o segment) bool { return offLine(p, o.from, o.to) <= allowed }) {
				return p, true
			}
		}
	}
	return picture.Point{}, false
}

// group is the lines of one kind of one solid: those that must be seen, those that
// must or may be seen, and how many there are.
type group struct {
	sure, maybe []segment
	exact       float64
	ends        int
}

// groups says what must be drawn of a solid of a scene: its outline, where one face
// looks at the eye and the other does not, and its bends of more than 30 degrees
// between two that do.
func groups(scene []*solid, own int, f frame, margin float64) (outline, bends group) {
	s := scene[own]
	ahead := f.view.Ahead
	for _, e := range s.edges {
		a, b := s.faces[e.a].front(ahead), s.faces[e.b].front(ahead)
		g := &outline
		if a == b {
			if !a || s.bend(e) < 30 {
				continue
			}
			g = &bends
		}
		x0, y0, _ := f.project(e.from)
		x1, y1, _ := f.project(e.to)
		part := func(h stretch) segment {
			return segment{picture.Point{x0 + h.from*(x1-x0), y0 + h.from*(y1-y0)}, picture.Point{x0 + h.to*(x1-x0), y0 + h.to*(y1-y0)}}
		}
		for _, h := range free(scene, own, e, ahead, -margin) {
			g.sure = append(g.sure, part(h))
		}
		for _, h := range free(scene, own, e, ahead, margin) {
			g.maybe = append(g.maybe, part(h))
			g.ends += 2
		}
		for _, h := range free(scene, own, e, ahead, 0) {
			g.exact += part(h).length()
		}
	}
	return outline, bends
}

// Hidden lines of convex solids against clipping them by planes: what lies 3 pixels
// behind a solid and 3 pixels inside its outline is not drawn, what is free by as much
// is, and all visible length together is right within a hundredth.
func TestHiddenLinesOfConvexSolids(t *testing.T) {
	const pixels = 3.0
	var exact, got float64
	for seed := range uint64(kitstest.Rounds(t, 300, 50)) {
		r := random(seed)
		scene := randomScene(r)
		v := randomView(r)
		if edgeOn(scene, v) {
			continue
		}
		var list []thing
		for i, s := range scene {
			triangles := s.list
			if seed%25 == 0 { // enough for the work to be shared
				for len(triangles) < smallBody {
					triangles = split(triangles)
				}
			}
			by := geom.Vec{10 * r.NormFloat64(), 10 * r.NormFloat64(), 10 * r.NormFloat64()}
			triangles = meshtest.Transform(triangles, meshtest.Identity, by.Times(-1), 1)
			list = append(list, thing{bodyOf(t, triangles), by, int32(i + 1)})
		}
		region := shadows(v, list).grown(3)
		f := frame{view: v, scale: 2 + 4*r.Float64(), left: region.x0, top: region.y0}
		f.width, f.height = int(region.width()*f.scale)+1, int(region.height()*f.scale)+1
		b := newBuffer(f)
		b.add(list...)
		for i, th := range list {
			st := b.strokes(th)
			outline, bends := groups(scene, i, f, pixels/f.scale)
			for _, c := range []struct {
				kind string
				want group
				got  []segment
			}{{"outline", outline, drawn(st.outline)}, {"bends", bends, drawn(st.bends)}} {
				where := fmt.Sprintf("scene %d, solid %d, %s", seed, i, c.kind)
				if p, bad := strayed(c.got, c.want.maybe, 1.5); bad {
					t.Errorf("%s: there is a line at %.1f where none can be seen", where, p)
				}
				if p, bad := strayed(c.want.sure, c.got, 1.5); bad {
					t.Errorf("%s: no line at %.1f, where nothing hides it", where, p)
				}
				few := 1.5 * float64(c.want.ends)
				if l := total(c.got); l < total(c.want.sure)-few || l > total(c.want.maybe)+few {
					t.Errorf("%s: %.1f pixels, want %.1f to %.1f", where, l, total(c.want.sure)-few, total(c.want.maybe)+few)
				}
				exact, got = exact+c.want.exact, got+total(c.got)
			}
		}
	}
	t.Logf("%.0f pixels of line, of %.0f", got, exact)
	if exact < 1e5 || math.Abs(got-exact) > 0.01*exact {
		t.Errorf("%.0f pixels of visible line in all, want %.0f", got, exact)
	}
}

// edgeOn reports whether a face is seen so nearly edge on that its outline cannot be
// told from a bend.
func edgeOn(scene []*solid, v View) bool {
	for _, s := range scene {
		if slices.ContainsFunc(s.faces, func(f face) bool { return math.Abs(f.normal.Dot(v.Ahead)) < 0.01 }) {
			return true
		}
	}
	return false
}

// grown is the box with a margin all around.
func (b box) grown(by float64) box { return box{b.x0 - by, b.y0 - by, b.x1 + by, b.y1 + by} }
