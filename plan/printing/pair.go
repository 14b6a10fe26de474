package printing

import (
	"context"
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// Mirrored parts are printed as mirror images of each other, so that both curl
// and are marked alike, and halves still meet (common practice).

// alike is how much, in mm, two hulls may differ and still be mirror images.
const alike = 0.05

// mirrorAxis is the axis of the model across which one part is the mirror image
// of another: y, the most common, if there are several; -1 if there is none.
func mirrorAxis(f, g *facts) int {
	for _, axis := range [3]int{1, 0, 2} {
		if mirrors(f, g, axis) {
			return axis
		}
	}
	return -1
}

func mirrors(f, g *facts, axis int) bool {
	a, b := middle(f.rough), middle(g.rough)
	for _, d := range roughWays {
		if math.Abs(far(f.rough, d)-a.Dot(d)-far(g.rough, mirrored(d, axis))+b.Dot(mirrored(d, axis))) > alike {
			return false
		}
	}
	return true
}

func mirrored(v geom.Vec, axis int) geom.Vec {
	v[axis] = -v[axis]
	return v
}

func middle(points []geom.Vec) geom.Vec { return boxAround(points).Centre() }

// far is how far points reach along a direction.
func far(points []geom.Vec, d geom.Vec) float64 {
	most := math.Inf(-1)
	for i := range points {
		most = max(most, points[i].Dot(d))
	}
	return most
}

// setLike sets a part as the mirror image of its pair's setting, if it is one and
// fits that way.
func (f *facts) setLike(ctx context.Context, other *facts, sets []*Setting, printers []*kits.Printer) ([]*Setting, error) {
	axis := mirrorAxis(other, f)
	out := make([]*Setting, len(sets))
	for k, s := range sets {
		if s == nil || axis < 0 {
			continue
		}
		down := mirrored(s.Turn[2].Times(-1), axis)
		for _, o := range f.poses(printers[k].Process) {
			if o.down.Dot(down) < cosine(0.5) || o.onBed == (s.Raised > 0) {
				continue
			}
			t, ok, err := f.settle(ctx, o, printers[k])
			if err != nil {
				return nil, err
			}
			if ok {
				t.Fit = Fit(f.hull, printers[k].Volume)
				out[k] = t
				break
			}
		}
	}
	return out, nil
}
