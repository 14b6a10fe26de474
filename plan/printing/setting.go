package printing

import (
	"cmp"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// Setting is how a part is printed on a printer.
type Setting struct {
	Fit    Fitting      // how it goes into the volume at all
	Turn   Turn         // the proposed side to lie on, turned to suit the bed
	Size   geom.Vec     // of the part along the printer's axes at that turn, mm
	Foot   float64      // mm2 that lie on the bed; 0 if it stands on supports
	Raised float64      // mm above the bed, on supports
	Why    string       // in words that follow the part's name
	Time   Band         // of one piece alone
	Shadow [][2]float64 // outline on the bed, convex, its box beginning at 0, 0; mm
	// Outline is the shadow with its hollows and holes; not nil in a plan.
	Outline *Outline
}

// Height is how far the part reaches above the bed, mm.
func (s *Setting) Height() float64 { return s.Size[2] + s.Raised }

// maxPoses bounds the sides that are tried on a printer before settling for any
// way that fits.
const maxPoses = 60

// set chooses the best side to lie on for which the printer has room. It returns
// nil, and how close it comes, if the part never fits.
func (f *facts) set(p *kits.Printer) (*Setting, Fitting) {
	fit := Fit(f.hull, p.Volume)
	if fit.Way == TooLarge {
		return nil, fit
	}
	poses := slices.Clone(f.poses(p.Process))
	slices.SortStableFunc(poses, func(a, b *pose) int { return cmp.Compare(a.on(p), b.on(p)) })
	var best *Setting
	least := math.Inf(1)
	for _, o := range poses[:min(len(poses), maxPoses)] {
		if o.on(p) >= least {
			break
		}
		s, ok := f.settle(o, p)
		if !ok {
			continue
		}
		if cost := price(o.cost, s.Size[0], s.Size[1], p); cost < least {
			best, least = s, cost
		}
	}
	if best == nil {
		best = f.anyhow(fit, p)
	}
	best.Fit = fit
	return best, fit
}

// anyhow is the only way found in which a part fits.
func (f *facts) anyhow(fit Fitting, p *kits.Printer) *Setting {
	s := f.setting(p, fit.Turn, shadow(f.hull.Points, fit.Turn))
	s.Why = "stands on supports, the only way found in which it fits"
	if p.Process == kits.Resin {
		s.Raised = min(raised, max(p.Volume[2]-fit.Size[2], 0))
		f.time(s, p)
	}
	return s
}

// settle turns a part about the vertical axis to suit the bed: so that the box
// around it is smallest, or else so that it fits at all.
func (f *facts) settle(o *pose, p *kits.Printer) (*Setting, bool) {
	room := p.Volume
	up := 0.0
	if p.Process == kits.Resin && o.foot == 0 {
		up = raised
		room[2] -= up
	}
	if f.height(o.down) > room[2]+spareRoom {
		return nil, false
	}
	t := standing(o.down)
	if o.ring == nil {
		o.ring = shadow(f.hull.Points, t)
	}
	angle := leastBox(o.ring)
	turn := about(2, -angle).after(t)
	if fit := fitting(Straight, turn, f.hull, room); !fit.fits() {
		angle += math.Pi / 2
		turn = about(2, -angle).after(t)
		if fit = fitting(Straight, turn, f.hull, room); !fit.fits() {
			var ok bool
			if angle, ok = turnedUpright(o.ring, f.hull.Slack, room); !ok {
				return nil, false
			}
			turn = about(2, -angle).after(t)
		}
	}
	s := f.setting(p, f.neat(turn, room), turned(o.ring, angle))
	s.Foot, s.Raised, s.Why = o.foot, up, f.says(o, p.Process)
	f.time(s, p)
	return s, true
}

// neat rounds the angles of a turn if the part still fits.
func (f *facts) neat(t Turn, room geom.Vec) Turn {
	r := t.rounded()
	if fit := fitting(Straight, r, f.hull, room); fit.fits() {
		return r
	}
	return t
}

func (f *facts) setting(p *kits.Printer, t Turn, ring [][2]float64) *Setting {
	s := &Setting{Turn: t, Size: t.size(f.hull.Points), Shadow: fromCorner(ring)}
	f.time(s, p)
	return s
}

// fromCorner moves a ring so that its box begins at 0, 0.
func fromCorner(ring [][2]float64) [][2]float64 {
	x, y := math.Inf(1), math.Inf(1)
	for _, c := range ring {
		x, y = min(x, c[0]), min(y, c[1])
	}
	for i := range ring {
		ring[i] = [2]float64{ring[i][0] - x, ring[i][1] - y}
	}
	return ring
}

// time computes how long a piece takes on its own.
func (f *facts) time(s *Setting, p *kits.Printer) {
	if p.Process == kits.Resin {
		s.Time = Band{resinTime(p, s.Size[2]), resinTime(p, s.Height())}
		return
	}
	s.Time = filamentTime(p, f.Material())
	if f.BySize {
		s.Time.Low = 0
	}
}
