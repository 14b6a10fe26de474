package printing

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits"
)

// Setting is how a part is printed on a printer.
type Setting struct {
	Fit    Fitting      // how it goes into the volume at all
	Turn   Turn         // the side to lie on that is proposed, turned to suit the bed
	Size   vec          // of the part along the printer's axes at that turn, mm
	Foot   float64      // mm2 that lie on the bed; 0 if it stands on supports
	Raised float64      // mm above the bed, on supports
	Why    string       // in words that follow the part's name
	Time   Band         // of one piece alone
	Shadow [][2]float64 // outline on the bed, convex, its box beginning at 0, 0; mm
}

// Height is how far the part reaches above the bed, mm.
func (s *Setting) Height() float64 { return s.Size[2] + s.Raised }

// set chooses the best side to lie on for which the printer has room. It returns nil,
// and how near it comes, if the part fits at no turn.
func (f *facts) set(p *kits.Printer) (*Setting, Fitting) {
	fit := Fit(f.hull, p.Volume)
	if fit.Way == TooLarge {
		return nil, fit
	}
	poses := slices.Clone(f.poses(p.Process))
	slices.SortStableFunc(poses, func(a, b pose) int { return cmp.Compare(a.on(p), b.on(p)) })
	for _, o := range poses {
		raise := 0.0
		if p.Process == kits.Resin && o.foot == 0 {
			raise = raised
		}
		if t, ok := f.settle(o.down, raise, p.Volume); ok {
			return f.setting(p, fit, t, o.foot, raise, o.why), fit
		}
	}
	raise := 0.0
	if p.Process == kits.Resin {
		raise = min(raised, p.Volume[2]-fit.Size[2])
	}
	return f.setting(p, fit, fit.Turn, 0, max(raise, 0), "stands on supports, the one way found in which it fits"), fit
}

// settle turns a part about the upright axis to suit the bed: so that the box around
// it is smallest, or else so that it fits at all.
func (f *facts) settle(down vec, raise float64, volume vec) (Turn, bool) {
	room := volume
	room[2] -= raise
	t := standing(down)
	if f.height(down) > room[2]+spareRoom {
		return t, false
	}
	ring := shadow(f.hull.Points, t)
	t = about(2, -leastBox(ring)).after(t)
	if fit := fitting(Straight, t, f.hull, room); fit.fits() {
		return f.neat(t, room), true
	}
	quarter := about(2, math.Pi/2).after(t)
	if fit := fitting(Straight, quarter, f.hull, room); fit.fits() {
		return f.neat(quarter, room), true
	}
	t, ok := turnedUpright(f.hull, t, room)
	return t, ok
}

// neat rounds the angles of a turn, if the part still fits then.
func (f *facts) neat(t Turn, room vec) Turn {
	r := t.rounded()
	if fit := fitting(Straight, r, f.hull, room); fit.fits() {
		return r
	}
	return t
}

func (f *facts) setting(p *kits.Printer, fit Fitting, t Turn, foot, raise float64, why string) *Setting {
	lo, hi := t.extents(f.hull.Points)
	s := &Setting{Fit: fit, Turn: t, Size: sub(hi, lo), Foot: foot, Raised: raise, Why: why, Shadow: shadow(f.hull.Points, t)}
	for i := range s.Shadow {
		s.Shadow[i][0] -= lo[0]
		s.Shadow[i][1] -= lo[1]
	}
	if p.Process == kits.Resin {
		s.Time = Band{resinTime(p, s.Size[2]), resinTime(p, s.Height())}
		return s
	}
	s.Time = filamentTime(p, f.Shape.Volume)
	if f.BySize {
		s.Time.Low = 0
	}
	return s
}
