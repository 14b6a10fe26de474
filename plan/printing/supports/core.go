package supports

import (
	"context"
	"math"

	"dryfit/kits/geom"
	"dryfit/plan/printing/raster"
)

// maxCore bounds the cells of the grid for a core.
const maxCore = 160_000

// Core is the volume of a part, mm3, that is at least a wall's thickness in mm away
// from its surface: what would be left out if it were hollowed. It is measured in
// columns a third of the wall apart, unless the part is very large.
// The error is one of reading the surface or of the context.
func (p *Part) Core(ctx context.Context, box geom.Box, wall float64) (float64, error) {
	if err := p.weld(ctx); err != nil {
		return 0, err
	}
	size, g := box.Size(), p.lines()
	pitch := wall / 3 // a whole number of cells is a wall
	for size[0]*size[1] > maxCore*pitch*pitch {
		pitch *= 2
	}
	g.Grid, g.met = raster.Over(size[0], size[1], pitch), g.met[:0]
	straight := Turn{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}
	if err := p.cross(ctx, &straight, box, g); err != nil {
		return 0, err
	}
	ball := g.ball(wall)
	sum := 0.0
	for c := range g.Cells() {
		for _, s := range g.deep(c, ball) {
			sum += s[1] - s[0]
		}
	}
	return sum * g.Pitch * g.Pitch, ctx.Err()
}

// cross finds where the lines of a grid enter a part at a turn, and where they leave it.
func (p *Part) cross(ctx context.Context, t *Turn, box geom.Box, g *columns) error {
	err := p.each(ctx, t, box.Min, func(_ int, c *[3]geom.Vec) {
		if n := c[1].Minus(c[0]).Cross(c[2].Minus(c[0])); len(g.met) <= maxMet {
			g.add(c, crossing{leaves: n[2] > 0})
		}
	})
	if err != nil {
		return err
	}
	g.sort()
	return nil
}

// offset is a cell beside another, and half the height of a ball there.
type offset struct {
	x, y int
	half float64
}

// ball lists the cells over which a ball of some radius extends, its own first.
func (g *columns) ball(radius float64) []offset {
	list := []offset{{half: radius}}
	n := int(radius/g.Pitch + 1e-9)
	for y := -n; y <= n; y++ {
		for x := -n; x <= n; x++ {
			if d := square(radius) - square(float64(x)*g.Pitch) - square(float64(y)*g.Pitch); d >= -1e-9 && (x != 0 || y != 0) {
				list = append(list, offset{x, y, math.Sqrt(max(d, 0))})
			}
		}
	}
	return list
}

// deep lists the stretches of a line on which a ball is inside the part.
func (g *columns) deep(cell int, ball []offset) (list [][2]float64) {
	x, y := cell%g.NX, cell/g.NX
	for i, o := range ball {
		if x+o.x < 0 || x+o.x >= g.NX || y+o.y < 0 || y+o.y >= g.NY {
			return nil
		}
		var inside [][2]float64
		for _, s := range g.of((y+o.y)*g.NX + x + o.x) {
			low, high := float64(s.low)+o.half, float64(s.high)-o.half
			if i == 0 && low < high {
				inside = append(inside, [2]float64{low, high})
			}
			for _, r := range list {
				if a, b := max(low, r[0]), min(high, r[1]); a < b {
					inside = append(inside, [2]float64{a, b})
				}
			}
		}
		if list = inside; list == nil {
			return nil
		}
	}
	return list
}

func square(v float64) float64 { return v * v }
