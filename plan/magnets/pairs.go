// Package magnets finds which magnets of a kit attract and which repel, and
// whether each fits its pocket. Magnets are modelled as dipoles at their centres:
// enough for the sign of the force between two small ones, not for its strength.
package magnets

import (
	"cmp"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// Verdict on a pair.
type Verdict string

// What two magnets do.
const (
	Attract Verdict = "attract"
	Repel   Verdict = "repel"
	Neither Verdict = "neither" // they lie across each other
)

// Pair is two magnets that should hold each other.
type Pair struct {
	Of       *kits.Magnets // the entry that says so
	A, B     int           // pieces
	Verdict  Verdict
	Measured bool // from the positions of their meshes; otherwise one is assumed to lie over the other
}

// hardly is a pull so small that the pair neither holds nor repels: norths within
// a few degrees of perpendicular (ours).
const hardly = 0.1

// Pairs lists the pairs of a kit, each once. With meshes, copies pair with the
// nearest; otherwise by their numbers.
func Pairs(p *plan.Project) []Pair {
	var list []Pair
	seen := map[[2]int]bool{}
	for _, m := range p.Kit.Magnets {
		for _, pair := range matched(p, m, m.North) {
			key := [2]int{min(pair.A, pair.B), max(pair.A, pair.B)}
			if !seen[key] {
				seen[key] = true
				list = append(list, pair)
			}
		}
	}
	return list
}

// maxMatched bounds the copies that are paired by distance.
const maxMatched = 300

// matched pairs the magnets of an entry, assuming the given north.
func matched(p *plan.Project, m *kits.Magnets, north geom.Vec) []Pair {
	if len(m.Mates) == 0 {
		return nil
	}
	mates := m.Mates
	if near := nearest(p, m); near != nil {
		mates = near
	}
	list := make([]Pair, len(m.Pieces))
	for i, a := range m.Pieces {
		b := mates[i]
		along, measured := north, false
		if ma, mb := p.Mesh(a), p.Mesh(b); ma != nil && mb != nil && ma.Centre != mb.Centre {
			along, measured = geom.Vec(mb.Centre).Minus(ma.Centre), true
		}
		list[i] = Pair{m, a, b, verdict(Pull(north, p.Kit.MagnetsOf(b).North, along)), measured}
	}
	return list
}

func verdict(pull float64) Verdict {
	switch {
	case pull > hardly:
		return Attract
	case pull < -hardly:
		return Repel
	}
	return Neither
}

// nearest finds for each magnet the mate that is nearest, closest pairs first; nil if
// not all have meshes.
func nearest(p *plan.Project, m *kits.Magnets) []int {
	if len(m.Pieces) > maxMatched {
		return nil
	}
	type link struct {
		a, b int
		far  float64
	}
	var links []link
	for i, a := range m.Pieces {
		for j, b := range m.Mates {
			ma, mb := p.Mesh(a), p.Mesh(b)
			if ma == nil || mb == nil {
				return nil
			}
			d := geom.Vec(ma.Centre).Minus(mb.Centre)
			links = append(links, link{i, j, d.Dot(d)})
		}
	}
	slices.SortStableFunc(links, func(x, y link) int { return cmp.Compare(x.far, y.far) })
	out := make([]int, len(m.Pieces))
	gone, taken := make([]bool, len(m.Pieces)), make([]bool, len(m.Mates))
	for _, l := range links {
		if !gone[l.a] && !taken[l.b] {
			gone[l.a], taken[l.b] = true, true
			out[l.a] = m.Mates[l.b]
		}
	}
	return out
}
