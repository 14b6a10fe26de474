package mesh

import (
	"fmt"
	"math"

	"dryfit/kits/geom"
)

// MaxCoordinate is how far from the origin a corner may lie, in mm. No model is a
// thousand kilometres long: anything beyond is a broken file, and sizes computed
// from it would overflow.
const MaxCoordinate = 1e9

// Tally accumulates the shape of triangles. Volumes are summed about a point of
// the mesh itself, to keep precision far from the origin.
type Tally struct {
	count    int // triangles so far
	origin   geom.Vec
	min, max [3]float32
	volume   float64 // six times
	moment   geom.Vec
	area     float64 // twice
}

// NewTally sums about a corner of the mesh, which must be the same for tallies that will
// be joined. first is the number of its first triangle, for errors.
func NewTally(origin [3]float32, first int) Tally {
	return Tally{count: first, origin: geom.Point(origin), min: origin, max: origin}
}

// Add is the one loop that every triangle of every mesh goes through. The volume
// against the origin is p0 . (p1-p0) x (p2-p0), so that one cross product serves
// both volume and area. A number that is not finite makes the area so, which is
// checked once per block.
func (t *Tally) Add(block []Triangle) error {
	ox, oy, oz := t.origin[0], t.origin[1], t.origin[2]
	var volume, area, mx, my, mz float64
	lo, hi := t.min, t.max
	for n := range block {
		tri := &block[n]
		ax, ay, az := tri[0][0], tri[0][1], tri[0][2]
		bx, by, bz := tri[1][0], tri[1][1], tri[1][2]
		cx, cy, cz := tri[2][0], tri[2][1], tri[2][2]
		lo[0], hi[0] = widen(lo[0], hi[0], ax, bx, cx)
		lo[1], hi[1] = widen(lo[1], hi[1], ay, by, cy)
		lo[2], hi[2] = widen(lo[2], hi[2], az, bz, cz)

		px, py, pz := float64(ax), float64(ay), float64(az)
		ux, uy, uz := float64(bx)-px, float64(by)-py, float64(bz)-pz
		vx, vy, vz := float64(cx)-px, float64(cy)-py, float64(cz)-pz
		px, py, pz = px-ox, py-oy, pz-oz
		nx, ny, nz := uy*vz-uz*vy, uz*vx-ux*vz, ux*vy-uy*vx
		v := px*nx + py*ny + pz*nz
		volume += v
		mx += v * (3*px + ux + vx)
		my += v * (3*py + uy + vy)
		mz += v * (3*pz + uz + vz)
		area += math.Sqrt(nx*nx + ny*ny + nz*nz)
	}
	if !geom.Finite(area) || !near(lo) || !near(hi) {
		if err := t.fault(block); err != nil {
			return err
		}
	}
	t.count += len(block)
	t.min, t.max = lo, hi
	t.volume += volume
	t.area += area
	t.moment[0] += mx
	t.moment[1] += my
	t.moment[2] += mz
	return nil
}

// widen extends the range from lo to hi to three values.
func widen(lo, hi, a, b, c float32) (float32, float32) {
	if a > b {
		a, b = b, a
	}
	if c < a {
		a = c
	}
	if c > b {
		b = c
	}
	if a < lo {
		lo = a
	}
	if b > hi {
		hi = b
	}
	return lo, hi
}

func near(p [3]float32) bool {
	for _, v := range p {
		if v > MaxCoordinate || v < -MaxCoordinate {
			return false
		}
	}
	return true
}

// fault names the first corner of a block that no mesh can have.
func (t *Tally) fault(block []Triangle) error {
	for n := range block {
		for c, p := range block[n] {
			for _, v := range p {
				switch {
				case !geom.Finite(float64(v)):
					return fmt.Errorf("corner %d of triangle %d has a coordinate that is not a finite number; export the part again", c+1, t.count+n+1)
				case v > MaxCoordinate || v < -MaxCoordinate:
					return fmt.Errorf("corner %d of triangle %d lies %.3g mm from the origin, too far for any model; check the unit, or export the part again", c+1, t.count+n+1, math.Abs(float64(v)))
				}
			}
		}
	}
	return nil
}

// Join adds another Tally, of the triangles that follow.
func (t *Tally) Join(o *Tally) {
	t.volume += o.volume
	t.area += o.area
	for k := range 3 {
		t.min[k], t.max[k] = min(t.min[k], o.min[k]), max(t.max[k], o.max[k])
		t.moment[k] += o.moment[k]
	}
}

// shape is what was added up; turned reports that the volume was negative.
func (t *Tally) shape() (s Shape, turned bool) {
	s = Shape{Box: geom.Box{Min: geom.Point(t.min), Max: geom.Point(t.max)}, Volume: t.volume / 6, Area: t.area / 2}
	s.Centre = s.Box.Centre()
	if turned = s.Volume < 0; turned {
		s.Volume = -s.Volume
	}
	if math.Abs(t.volume) > 1e-9*t.area*s.Size().Length() {
		for k := range 3 {
			s.Centre[k] = t.origin[k] + t.moment[k]/(4*t.volume)
		}
	}
	return s, turned
}
