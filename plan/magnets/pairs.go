package magnets

import (
	"cmp"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// Verdict on a pair.
type Verdict string

// What two magnets do.
const (
	Attract Verdict = "attract"
	Repel   Verdict = "repel"
	Neither Verdict = "neither" // they lie across each other
)

// Pair is two magnets that are to hold to each other.
type Pair struct {
	Of       *kits.Magnets // the entry that says so
	A, B     int           // pieces
	Verdict  Verdict
	Measured bool // by where their meshes are; else they are taken to lie one over the other
}

// hardly is a pull so small that the pair neither holds nor parts: norths that lie
// within some degrees of square to each other.
const hardly = 0.1

// Pairs lists the pairs of a kit, each once. Where meshes tell, copies pair with the
// nearest; else by their numbers. The source is nil for a kit without meshes.
func Pairs(k *kits.Kit, from *mesh.Collection) []Pair {
	var list []Pair
	seen := map[[2]int]bool{}
	for _, m := range k.Magnets {
		for _, p := range matched(k, m, m.North, from) {
			key := [2]int{min(p.A, p.B), max(p.A, p.B)}
			if !seen[key] {
				seen[key] = true
				list = append(list, p)
			}
		}
	}
	return list
}

// maxMatched bounds the copies that are paired by nearness.
const maxMatched = 300

// matched pairs the magnets of an entry as if their norths pointed as given.
func matched(k *kits.Kit, m *kits.Magnets, north [3]float64, from *mesh.Collection) []Pair {
	if len(m.Mates) == 0 {
		return nil
	}
	list := make([]Pair, len(m.Pieces))
	mates := slices.Clone(m.Mates)
	if near := nearest(k, m, from); near != nil {
		mates = near
	}
	for i, a := range m.Pieces {
		b := mates[i]
		list[i] = Pair{Of: m, A: a, B: b}
		r := north
		if ca, cb := centre(k, a, from), centre(k, b, from); ca != nil && cb != nil && *ca != *cb {
			list[i].Measured = true
			r = [3]float64{cb[0] - ca[0], cb[1] - ca[1], cb[2] - ca[2]}
		}
		list[i].Verdict = verdict(Pull(north, k.MagnetsOf(b).North, r))
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
func nearest(k *kits.Kit, m *kits.Magnets, from *mesh.Collection) []int {
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
			ca, cb := centre(k, a, from), centre(k, b, from)
			if ca == nil || cb == nil {
				return nil
			}
			d := [3]float64{ca[0] - cb[0], ca[1] - cb[1], ca[2] - cb[2]}
			links = append(links, link{i, j, dot(d, d)})
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

func centre(k *kits.Kit, piece int, from *mesh.Collection) *geom.Vec {
	m := from.Mesh(k.Pieces[piece].ID)
	if m == nil {
		return nil
	}
	return &m.Centre
}
