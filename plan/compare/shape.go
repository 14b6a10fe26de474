package compare

import (
	"fmt"
	"math"

	"dryfit/kits/mesh"
)

// near is how far two corners may be apart, in mm, and still be the same: far below what
// any printer shows, far above what writing a file rounds away.
const near = 1e-3

// maxLookedUp bounds the triangles that are looked up when they stand in another
// sequence.
const maxLookedUp = 2_000_000

// judge tells whether two meshes are the same, or the same somewhere else.
func judge(a, b *mesh.Mesh) (Print, error) {
	if a.Hash == b.Hash {
		return Print{Verdict: Good}, nil
	}
	var by [3]float64
	moved := false
	for k := range by {
		by[k] = b.Min[k] - a.Min[k]
		moved = moved || math.Abs(by[k]) > near
	}
	if why := differs(a, b); why != "" {
		return Print{Verdict: Redo, Why: why}, nil
	}
	same, err := sameTriangles(a, b, by)
	switch {
	case err != nil:
		return Print{}, err
	case same && moved:
		return Print{Verdict: Moved, By: &by, Why: fmt.Sprintf("moved by %s", vector(by))}, nil
	case same:
		return Print{Verdict: Good}, nil
	}
	return Print{Verdict: Alike, Why: "size, volume and area are the same, but its triangles are not"}, nil
}

// differs says in which of its measures a shape differs from another by more than
// rounding; empty if in none.
func differs(a, b *mesh.Mesh) string {
	sa, sb := a.Size(), b.Size()
	for k := range sa {
		if math.Abs(sa[k]-sb[k]) > 2*near {
			return fmt.Sprintf("its size was %s and is %s", sides(sa), sides(sb))
		}
	}
	area := max(a.Area, b.Area)
	if d := math.Abs(a.Volume - b.Volume); d > near*area {
		return fmt.Sprintf("its volume was %.1f mm3 and is %.1f mm3", a.Volume, b.Volume)
	}
	if d := math.Abs(a.Area - b.Area); d > 1e-3*area {
		return fmt.Sprintf("its surface was %.1f mm2 and is %.1f mm2", a.Area, b.Area)
	}
	return ""
}

// sameTriangles reports whether the triangles of b are those of a, moved. They stand in
// the same sequence in most files; where not, each is looked up.
func sameTriangles(a, b *mesh.Mesh, by [3]float64) (bool, error) {
	n := a.Len()
	if n != b.Len() {
		return false, nil
	}
	one, two := make([]mesh.Triangle, mesh.BlockSize), make([]mesh.Triangle, mesh.BlockSize)
	for i := 0; i < n; i += mesh.BlockSize {
		k, err := a.Read(i, one)
		if err != nil {
			return false, err
		}
		if _, err := b.Read(i, two[:k]); err != nil {
			return false, err
		}
		for t := range one[:k] {
			if !sameTriangle(&one[t], &two[t], by) {
				if n > maxLookedUp {
					return false, nil
				}
				return lookUp(a, b, by)
			}
		}
	}
	return true, nil
}

// sameTriangle reports whether t, moved, is u, whichever corner either starts with.
func sameTriangle(t, u *mesh.Triangle, by [3]float64) bool {
	for turn := range 3 {
		if sameCorner(t[0], u[turn], by) && sameCorner(t[1], u[(turn+1)%3], by) && sameCorner(t[2], u[(turn+2)%3], by) {
			return true
		}
	}
	return false
}

func sameCorner(p, q [3]float32, by [3]float64) bool {
	for k := range p {
		if math.Abs(float64(p[k])+by[k]-float64(q[k])) > near {
			return false
		}
	}
	return true
}

// lookUp pairs each triangle of a with one of b that stands where it has moved to. Those
// of b are kept by the cell that their middle is in.
func lookUp(a, b *mesh.Mesh, by [3]float64) (bool, error) {
	list := make([]mesh.Triangle, b.Len())
	if _, err := b.Read(0, list); err != nil {
		return false, err
	}
	cells := make(map[[3]int64][]int32, len(list))
	for i := range list {
		c := cellOf(&list[i], [3]float64{})
		cells[c] = append(cells[c], int32(i))
	}
	same := true
	err := a.Blocks(func(_ int, block []mesh.Triangle) error {
		for i := range block {
			same = same && take(cells, list, &block[i], by)
		}
		return nil
	})
	return same, err
}

// cell is the side of a cell, in mm: middles that belong together are in the same cell or
// in neighbours.
const cell = 4 * near

func cellOf(t *mesh.Triangle, by [3]float64) (c [3]int64) {
	for k := range c {
		c[k] = int64(math.Floor(((float64(t[0][k])+float64(t[1][k])+float64(t[2][k]))/3 + by[k]) / cell))
	}
	return c
}

// take finds the triangle that t has moved to, and takes it out.
func take(cells map[[3]int64][]int32, list []mesh.Triangle, t *mesh.Triangle, by [3]float64) bool {
	c := cellOf(t, by)
	for dx := int64(-1); dx <= 1; dx++ {
		for dy := int64(-1); dy <= 1; dy++ {
			for dz := int64(-1); dz <= 1; dz++ {
				at := [3]int64{c[0] + dx, c[1] + dy, c[2] + dz}
				for i, u := range cells[at] {
					if sameTriangle(t, &list[u], by) {
						in := cells[at]
						in[i] = in[len(in)-1]
						cells[at] = in[:len(in)-1]
						return true
					}
				}
			}
		}
	}
	return false
}

func sides(s [3]float64) string {
	return fmt.Sprintf("%.2f x %.2f x %.2f mm", s[0], s[1], s[2])
}

func vector(v [3]float64) string {
	return fmt.Sprintf("[%s, %s, %s] mm", short(v[0]), short(v[1]), short(v[2]))
}

func short(x float64) string { return fmt.Sprintf("%g", math.Round(x*1000)/1000+0) }
