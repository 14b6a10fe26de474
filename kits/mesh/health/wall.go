package health

import (
	"math"
	"slices"
	"sort"

	"dryfit/kits/geom"
)

// The number of points sampled on the surface for the thinnest wall: one for each
// mm2, within these limits. A thin place of less than a thousandth of the
// surface, or of a few mm2, may be missed.
const (
	fewestSamples = 500
	mostSamples   = 5000
)

// samplesFor is how many points are sampled on a surface of an area in mm2.
func samplesFor(area float64) int {
	return int(min(max(area, fewestSamples), mostSamples))
}

// maxLooks is how many triangles and boxes are visited from one point. A few
// hundred are usual.
const maxLooks = 4000

// facing is how nearly the two sides of a wall must face in opposite directions:
// the cosine of the largest angle, 45 degrees. At the edges of a solid, where its
// sides meet, there is no wall to measure.
const facing = 0.7

// wall is the thinnest place that was found.
type wall struct {
	thick float64 // mm; 0 if no point has an opposite one
	at    geom.Vec
	usual float64 // mm; half the walls are thinner
	given int     // points from which there was too much to visit
	looks int     // places sampled
}

// thinnest casts rays inward from points spread evenly over the surface. The
// points are the same each time: the middles of equal shares of the area, placed
// within their triangles by the sequence of M. Roberts (R2, 2018).
func (t *tree) thinnest(tiny float64) wall {
	s := t.s
	sums := make([]float64, len(s.faces))
	total := 0.0
	for i := range s.faces {
		x, y, z := s.normal(i)
		total += math.Sqrt(x*x + y*y + z*z)
		sums[i] = total
	}
	if !(total > 0) {
		return wall{}
	}
	t.exactly()
	samples := samplesFor(total / 2)
	found := make([]wall, samples)
	each(t.ctx, samples, func(k int) {
		face := sort.SearchFloat64s(sums, total*(float64(k)+0.5)/float64(samples))
		found[k] = t.across(min(face, len(sums)-1), r2(k), tiny)
	})
	least := wall{looks: samples}
	var all []float64
	for _, w := range found {
		least.given += w.given
		if w.thick == 0 {
			continue
		}
		all = append(all, w.thick)
		if least.thick == 0 || w.thick < least.thick {
			least.thick, least.at = w.thick, w.at
		}
	}
	if slices.Sort(all); len(all) > 0 {
		least.usual = all[len(all)/2]
	}
	return least
}

// r2 is a point of a triangle, by the shares of its second and third corner.
func r2(k int) [2]float64 {
	const root = 1.32471795724474602596 // of x^3 = x + 1
	_, a := math.Modf(0.5 + float64(k)/root)
	_, b := math.Modf(0.5 + float64(k)/(root*root))
	if a+b > 1 {
		a, b = 1-a, 1-b
	}
	return [2]float64{a, b}
}

// across measures the wall behind a point of a triangle.
func (t *tree) across(face int, share [2]float64, tiny float64) wall {
	p := t.s.triangle(face)
	u, v := p[1].Minus(p[0]), p[2].Minus(p[0])
	n := u.Cross(v)
	l := n.Length()
	if l == 0 {
		return wall{}
	}
	n = n.Times(1 / l)
	from := p[0].Plus(u.Times(share[0]).Plus(v.Times(share[1])))
	r := newRay(from, n.Times(-1))
	next := crossed{face: -1}
	looked := t.cast(r, maxLooks, func(c crossed) {
		if c.face != face && c.along > tiny {
			next, r.reach = c, c.along
		}
	})
	if looked > maxLooks {
		return wall{given: 1}
	}
	if next.face < 0 || !next.out {
		return wall{}
	}
	q := t.s.triangle(next.face)
	m := q[1].Minus(q[0]).Cross(q[2].Minus(q[0]))
	if !(n.Dot(m) < -facing*m.Length()) {
		return wall{}
	}
	return wall{thick: next.along, at: from.Plus(n.Times(-next.along / 2))}
}
