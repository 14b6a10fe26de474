package compare

import (
	"fmt"
	"math"

	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
)

// near is how far two corners may be apart, in mm, and still be the same: far
// below what any printer resolves, far above the rounding of mesh files.
const near = 1e-3

// maxLookedUp bounds the triangles that are looked up when their order differs.
const maxLookedUp = 2_000_000

// judge finds out whether two meshes are the same, or the same but moved.
func judge(a, b *mesh.Mesh) (Print, error) {
	if a.Hash == b.Hash {
		return Print{Verdict: Good}, nil
	}
	by := b.Min.Minus(a.Min)
	moved := max(math.Abs(by[0]), math.Abs(by[1]), math.Abs(by[2])) > near
	if why := differs(a, b); why != "" {
		return Print{Verdict: Redo, Why: why}, nil
	}
	same, err := sameTriangles(a, b, by)
	switch {
	case err != nil:
		return Print{}, err
	case same && moved:
		return Print{Verdict: Moved, By: &by, Why: "moved by " + english.Vector(by.Round(3)) + " mm"}, nil
	case same:
		return Print{Verdict: Good}, nil
	}
	return Print{Verdict: Alike, Why: "size, volume and area are the same, but its triangles are not"}, nil
}

// differs says which measure of a shape differs from that of another by more than
// rounding; empty if none does.
func differs(a, b *mesh.Mesh) string {
	sa, sb := a.Size(), b.Size()
	for k := range sa {
		if math.Abs(sa[k]-sb[k]) > 2*near {
			return fmt.Sprintf("its size was %s and is now %s", sides(sa), sides(sb))
		}
	}
	area := max(a.Area, b.Area)
	if d := math.Abs(a.Volume - b.Volume); d > near*area {
		return fmt.Sprintf("its volume was %.1f mm3 and is now %.1f mm3", a.Volume, b.Volume)
	}
	if d := math.Abs(a.Area - b.Area); d > 1e-3*area {
		return fmt.Sprintf("its surface was %.1f mm2 and is now %.1f mm2", a.Area, b.Area)
	}
	return ""
}

// sameTriangles reports whether the triangles of b are those of a, moved. They
// usually have the same order; otherwise each is looked up.
func sameTriangles(a, b *mesh.Mesh, by geom.Vec) (bool, error) {
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

// sameTriangle reports whether t, moved, is u, no matter which corner comes
// first.
func sameTriangle(t, u *mesh.Triangle, by geom.Vec) bool {
	for turn := range 3 {
		if sameCorner(t[0], u[turn], by) && sameCorner(t[1], u[(turn+1)%3], by) && sameCorner(t[2], u[(turn+2)%3], by) {
			return true
		}
	}
	return false
}

func sameCorner(p, q [3]float32, by geom.Vec) bool {
	for k := range p {
		if math.Abs(float64(p[k])+by[k]-float64(q[k])) > near {
			return false
		}
	}
	return true
}

func sides(s geom.Vec) string {
	return fmt.Sprintf("%.2f x %.2f x %.2f mm", s[0], s[1], s[2])
}
