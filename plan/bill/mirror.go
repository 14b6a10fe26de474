package bill

import (
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
)

// Mirrored reports whether a part may be called the mirror image of the part that the kit
// pairs it with: the volumes and the boxes of their meshes agree. Without meshes the word of
// the kit counts. The margins are a judgement: rounding of a facet passes, a door does not.
func Mirrored(p *plan.Project, part *kits.Part) bool {
	if part.Pair == nil {
		return false
	}
	a, b := p.PrintedMesh(part), p.PrintedMesh(part.Pair)
	return a == nil || b == nil || near(a.Volume, b.Volume, 0.01) && alike(sorted(a), sorted(b), 0.005)
}

// sameShape reports whether two meshes have the same triangles, one of them moved. One that
// cannot be read counts as another shape.
func sameShape(a, b *mesh.Mesh) bool {
	if a.Len() != b.Len() {
		return false
	}
	const most = 1e-3 // mm, the rounding of coordinates in files
	move := b.Min.Minus(a.Min)
	buf, read := make([]mesh.Triangle, mesh.BlockSize), 0
	same := true
	err := a.Blocks(func(_ int, block []mesh.Triangle) error {
		n, err := b.Read(read, buf[:len(block)])
		if err != nil || n < len(block) {
			same = false
			return err
		}
		read += n
		same = same && slices.EqualFunc(block, buf[:n], func(s, t mesh.Triangle) bool {
			for k := range s {
				if at(t[k]).Minus(at(s[k])).Minus(move).Length() > most {
					return false
				}
			}
			return true
		})
		return nil
	})
	return same && err == nil
}

func at(corner [3]float32) geom.Vec {
	return geom.Vec{float64(corner[0]), float64(corner[1]), float64(corner[2])}
}
