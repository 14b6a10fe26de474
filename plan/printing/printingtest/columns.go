package printingtest

import (
	"math"
	"math/rand/v2"
	"slices"

	"dryfit/kits/mesh"
)

// Rule says what needs support.
type Rule struct {
	Angle  float64 // degrees from the bed: what leans out at less than that
	At     bool    // what leans out at just that angle, too
	Bridge float64 // mm: flat undersides up to so long, held at both ends, do not
	Layer  float64 // mm
}

// underside is where a line enters a solid from below.
type underside struct {
	z          float64
	room       float64 // mm down to what is beneath it
	needs      bool
	flat, span bool
}

// stack is what a line meets: its undersides, and the heights between which it is solid.
type stack struct {
	under []underside
	solid [][2]float64
}

// Columns counts the room, in mm3, between what leans out of solids and the bed at height
// 0, or what is beneath it. It counts on lines that stand at random in the cells of a grid,
// the same each time, so that no pattern of the solid falls into step with them; along
// bridges they stand in rows.
func Columns(list []mesh.Triangle, pitch float64, r Rule) (sum float64) {
	low, high := Around(list)
	g := &sieve{low: low, pitch: pitch, w: int((high[0]-low[0])/pitch) + 1, d: int((high[1]-low[1])/pitch) + 1}
	g.hits = make([][]hit, g.w*g.d)
	rng := rand.New(rand.NewPCG(3, 1))
	for i := range g.hits {
		share := point{rng.Float64(), rng.Float64()}
		if r.Bridge > 0 && i >= g.w {
			share[0] = g.at[i-g.w][0]
		}
		if r.Bridge > 0 && i%g.w > 0 {
			share[1] = g.at[i-1][1]
		}
		g.at = append(g.at, share)
	}
	for i := range list {
		g.cast(&list[i])
	}
	w, d := g.w, g.d
	stacks := make([]stack, w*d)
	for i, h := range g.hits {
		stacks[i] = r.stack(h)
	}
	if r.Bridge > 0 {
		for i := range stacks {
			for k := range stacks[i].under {
				u := &stacks[i].under[k]
				u.span = u.needs && u.flat && (r.spans(stacks, i, u.z, i%w, w, 1, pitch) || r.spans(stacks, i, u.z, i/w, d, w, pitch))
			}
		}
	}
	for _, s := range stacks {
		for _, u := range s.under {
			if u.needs && !u.span {
				sum += u.room * pitch * pitch
			}
		}
	}
	return sum
}

// hit is where a line meets a triangle, and the part of its unit normal that points up.
type hit struct{ z, up float64 }

// sieve is the lines, one in each cell of a grid, and what they meet.
type sieve struct {
	low   [3]float64
	pitch float64
	w, d  int
	at    []point // in shares of the cell
	hits  [][]hit
}

// cast finds the lines that meet a triangle.
func (g *sieve) cast(t *mesh.Triangle) {
	var u, v [3]float64
	for k := range 3 {
		u[k], v[k] = float64(t[1][k])-float64(t[0][k]), float64(t[2][k])-float64(t[0][k])
	}
	n := [3]float64{u[1]*v[2] - u[2]*v[1], u[2]*v[0] - u[0]*v[2], u[0]*v[1] - u[1]*v[0]}
	if n[2] == 0 {
		return
	}
	up := n[2] / math.Sqrt(n[0]*n[0]+n[1]*n[1]+n[2]*n[2])
	f := flat(t)
	low, high := bounds(f)
	from := func(v, low float64) int { return max(int((v-low)/g.pitch), 0) }
	for y := from(low[1], g.low[1]); y < g.d && g.low[1]+float64(y)*g.pitch <= high[1]; y++ {
		for x := from(low[0], g.low[0]); x < g.w && g.low[0]+float64(x)*g.pitch <= high[0]; x++ {
			i := y*g.w + x
			p := point{g.low[0] + (float64(x)+g.at[i][0])*g.pitch, g.low[1] + (float64(y)+g.at[i][1])*g.pitch}
			if within(p, f) {
				z := float64(t[0][2]) - (n[0]*(p[0]-float64(t[0][0]))+n[1]*(p[1]-float64(t[0][1])))/n[2]
				g.hits[i] = append(g.hits[i], hit{z, up})
			}
		}
	}
}

// Two solids nearer than joined print as one; what is nearer to the bed than onBed lies on
// it; angles are exact to about nearAngle degrees; an underside is flat up to flatAngle.
const (
	joined, onBed        = 0.02, 0.03 // mm
	nearAngle, flatAngle = 0.1, 5.0
)

func (r *Rule) stack(hits []hit) (s stack) {
	slices.SortFunc(hits, func(a, b hit) int {
		if a.z != b.z {
			return int(math.Copysign(1, a.z-b.z))
		}
		return int(math.Copysign(1, a.up-b.up)) // into the next solid before out of this one
	})
	limit := r.Angle - nearAngle
	if r.At {
		limit = r.Angle + nearAngle
	}
	inside, top := 0, 0.0
	for _, h := range hits {
		if h.up > 0 {
			if inside--; inside == 0 {
				s.solid[len(s.solid)-1][1], top = h.z, h.z
			}
			continue
		}
		if inside++; inside > 1 {
			continue
		}
		if n := len(s.solid); n > 0 && h.z-top < joined {
			continue
		}
		lean := math.Acos(math.Min(-h.up, 1)) * 180 / math.Pi
		s.under = append(s.under, underside{z: h.z, room: h.z - top, needs: lean <= limit && h.z > onBed, flat: lean <= flatAngle})
		s.solid = append(s.solid, [2]float64{h.z, h.z})
	}
	return s
}

// spans reports whether a flat underside in a row of n lines, at the given one, reaches no
// farther than a bridge, and ends at something solid on both sides.
func (r *Rule) spans(stacks []stack, i int, z float64, at, n, step int, pitch float64) bool {
	steps := 1
	for _, way := range [2]int{-1, 1} {
		h, k := z, at+way
		for ; k >= 0 && k < n; k += way {
			next, on := stacks[i+(k-at)*step].underside(h, pitch*math.Tan(flatAngle*math.Pi/180)+r.Layer/2)
			if !on {
				break
			}
			h = next
			if steps++; float64(steps)*pitch > r.Bridge+pitch {
				return false
			}
		}
		if k < 0 || k >= n || !stacks[i+(k-at)*step].full(h-r.Layer) || !stacks[i+(k-at)*step].full(h+r.Layer/2) {
			return false
		}
	}
	return true
}

// underside is the height of a flat underside near to a height.
func (s *stack) underside(z, near float64) (float64, bool) {
	for _, u := range s.under {
		if u.needs && u.flat && math.Abs(u.z-z) <= near {
			return u.z, true
		}
	}
	return 0, false
}

func (s *stack) full(z float64) bool {
	return slices.ContainsFunc(s.solid, func(b [2]float64) bool { return b[0] <= z && z <= b[1] })
}
