package printing

import (
	"cmp"
	"context"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan/printing/supports"
)

// Setting is how a part is printed on a printer.
type Setting struct {
	Fit    Fitting      // how it goes into the volume at all
	Turn   Turn         // the proposed side to lie on, turned to suit the bed
	Size   geom.Vec     // of the part along the printer's axes at that turn, mm
	Foot   float64      // mm2 that lie on the bed; 0 if it stands on supports
	Raised float64      // mm above the bed, on supports
	Why    string       // in words that follow the part's name
	Time   Band         // of one piece alone, with its supports
	Shadow [][2]float64 // outline on the bed, convex, its box beginning at 0, 0; mm
	// Outline is the shadow with its hollows and holes; not nil in a plan.
	Outline *Outline

	Need    supports.Need    // what holds it up
	Pockets supports.Pockets // measured for resin
	Printed float64          // mm3 printed as supports
	Largest Layer            // of some hundred layers over its height
	Cost    Cost             // what lying like this costs
	Others  []*Setting       // the next best ways to lie, at most two
	Blind   bool             // which of its faces are visible is not known, or none can be
}

// Height is how far the part reaches above the bed, mm.
func (s *Setting) Height() float64 { return s.Size[2] + s.Raised }

// What is measured of a part: the poses that the guess of their costs puts first,
// fewer of a large mesh, and of the boxes of a kit with many parts. The others are tried
// only if none of those fits.
const (
	measured      = 8
	measuredLarge = 4
	measuredMany  = 1
	largeMesh     = 300_000 // triangles
	manyBoxes     = 4000
	others        = 2
)

// set chooses the way to lie that costs least of those for which the printer has
// room. It returns nil, and how close it comes, if the part never fits. The error
// is one of reading the surface or of the context.
func (f *facts) set(ctx context.Context, p *kits.Printer) (*Setting, Fitting, error) {
	fit := Fit(f.hull, p.Volume)
	if fit.Way == TooLarge {
		return nil, fit, nil
	}
	type candidate struct {
		pose  *pose
		guess float64
	}
	var tried []candidate
	for _, o := range f.poses(p.Process) {
		tried = append(tried, candidate{o, f.guess(o, p)})
	}
	slices.SortStableFunc(tried, func(a, b candidate) int { return cmp.Compare(a.guess, b.guess) })
	most := measured
	switch {
	case f.solid.Triangles > largeMesh:
		most = measuredLarge
	case f.quick:
		most = measuredMany
	}
	var list []*Setting
	for _, c := range tried {
		s, ok, err := f.settle(ctx, c.pose, p)
		if err != nil {
			return nil, fit, err
		}
		if ok {
			if list = append(list, s); len(list) == most {
				break
			}
		}
	}
	if list == nil {
		s, err := f.anyhow(ctx, fit, p)
		if err != nil {
			return nil, fit, err
		}
		list = append(list, s)
	}
	slices.SortStableFunc(list, func(a, b *Setting) int { return cmp.Compare(a.Cost.Total, b.Cost.Total) })
	if f.roomOn(p) > 1 {
		if list = slices.DeleteFunc(list, func(s *Setting) bool { return s.Cost.fails() }); len(list) == 0 {
			return f.asEver(ctx, p)
		}
	}
	best := list[0]
	best.Fit, best.Others = fit, different(list)
	return best, fit, nil
}

// different lists the next best ways to lie after the first, leaving out those whose
// numbers are those of one before.
func different(list []*Setting) (out []*Setting) {
	for i, s := range list[1:] {
		same := func(o *Setting) bool { return alikeCost(&s.Cost, &o.Cost) }
		if len(out) < others && !slices.ContainsFunc(list[:i+1], same) {
			out = append(out, s)
		}
	}
	return out
}

// anyhow is the only way found in which a part fits.
func (f *facts) anyhow(ctx context.Context, fit Fitting, p *kits.Printer) (*Setting, error) {
	o := &pose{down: fit.Turn[2].Opposite(), onBed: p.Process == kits.Filament, held: map[ways]*held{}}
	o.high = f.height(o.down)
	s := f.setting(fit.Turn, shadow(f.hull.Points, fit.Turn))
	if p.Process == kits.Resin {
		s.Raised = min(p.Support.Raise, max(p.Volume[2]-fit.Size[2], 0))
	}
	err := f.complete(ctx, s, o, p)
	s.Why = "stands on supports, the only way found in which it fits"
	return s, err
}

// settle turns a part about the vertical axis to suit the bed: so that the box
// around it is smallest, or else so that it fits at all.
func (f *facts) settle(ctx context.Context, o *pose, p *kits.Printer) (*Setting, bool, error) {
	room := p.Volume
	up := 0.0
	if !o.onBed {
		up = p.Support.Raise
		room[2] -= up
	}
	if o.high > room[2]+spareRoom {
		return nil, false, nil
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
				return nil, false, nil
			}
			turn = about(2, -angle).after(t)
		}
	}
	s := f.setting(f.neat(turn, room), turned(o.ring, angle))
	s.Raised = up
	return s, true, f.complete(ctx, s, o, p)
}

// complete measures what holds a part, and what that costs.
func (f *facts) complete(ctx context.Context, s *Setting, o *pose, p *kits.Printer) error {
	h, err := f.measure(ctx, o, p)
	if err != nil {
		return err
	}
	s.Need, s.Pockets, s.Largest, s.Printed = h.Need, h.Pockets, h.Largest, f.printed(h, p)
	if o.onBed {
		s.Foot = o.foot
	}
	s.Cost = f.cost(o, h, s.Size[0], s.Size[1], p)
	s.Time = f.takes(o, s.Size[2], s.Printed, p)
	s.Blind = f.Seen == nil && !f.Clear()
	s.Why = f.says(o, h, p.Process)
	return nil
}

// neat rounds the angles of a turn if the part still fits.
func (f *facts) neat(t Turn, room geom.Vec) Turn {
	r := t.rounded()
	if fit := fitting(Straight, r, f.hull, room); fit.fits() {
		return r
	}
	return t
}

func (f *facts) setting(t Turn, ring [][2]float64) *Setting {
	return &Setting{Turn: t, Size: t.size(f.hull.Points), Shadow: fromCorner(ring)}
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
