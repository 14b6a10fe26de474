package printing

import (
	"fmt"
	"math"

	"dryfit/kits"
	"dryfit/kits/geom"
)

// Rules for choosing the side to lie on (common practice; the weights are our
// judgement):
//
//   - Filament lies on a flat face, as low as possible, with little that overhangs by
//     more than 45 degrees, and not on a narrow one if the part is tall.
//   - Resin is tilted on supports, so that no flat side lies along the film: its
//     layers stay small, and peel off easily. What overhangs steeply costs supports and
//     height costs time.
//   - A small resin part with a flat foot stands on the bed itself.
//   - Clear parts stand so that little of them faces down at all: supports mark it.
const (
	supportAngle = 45.0  // degrees; what faces down more steeply needs support
	filmAngle    = 25.0  // degrees; what is nearer to parallel with the film counts as along it
	clearAngle   = 75.0  // degrees; what of a clear part faces down to within it is marked
	clearWeight  = 10.0  // of that, relative to the same area elsewhere
	smallFoot    = 150.0 // mm2, of a small part's foot
	smallHeight  = 30.0  // mm, of a small part
	slender      = 5.0   // times as tall as its foot is wide, and it may fall
	heightWeight = 0.5   // of a mm of height, in mm2, times the root of the part's area
	bedWeight    = 0.25  // of a mm2 of bed that the part takes up
	gridStep     = 15    // degrees between the turns that are tried
	priceStep    = 1.0   // mm2; smaller differences are ignored
	raised       = 5.0   // mm that supports raise a part above the bed
	sideShare    = 0.2   // of the hull's area, from which a flat side is mentioned
)

// pose is a side to lie on.
type pose struct {
	down     geom.Vec
	foot     float64      // mm2 that lie on the bed; 0 on supports
	overhang float64      // mm2 that need support even so
	cost     float64      // without the bed that it takes
	w, d     float64      // roughly the smallest box on the bed, mm
	ring     [][2]float64 // the shadow in this pose, computed on demand
}

// on is the price of a side including the bed that it takes, rounded so that
// equally good sides have the same price.
func (o *pose) on(p *kits.Printer) float64 { return price(o.cost, o.w, o.d, p) }

func price(cost, w, d float64, p *kits.Printer) float64 {
	return math.Round((cost+bedWeight*(w+p.Margin)*(d+p.Margin))/priceStep) * priceStep
}

// poses lists the sides that a part can lie on when printed by a process.
func (f *facts) poses(process string) []*pose {
	if list, known := f.sides[process]; known {
		return list
	}
	var list []*pose
	if process == kits.Filament {
		list = f.filamentPoses()
	} else {
		list = f.resinPoses()
	}
	for _, o := range list {
		o.w, o.d = f.roughBox(o.down)
	}
	f.sides[process] = list
	return list
}

// roughBox is roughly the smallest box around a part on the bed: along its
// shadow's main axis, or straight if that is smaller.
func (f *facts) roughBox(down geom.Vec) (w, d float64) {
	t := standing(down)
	flat := make([][2]float64, len(f.rough))
	var x, y, xx, xy, yy float64
	for i, p := range f.rough {
		flat[i] = [2]float64{t[0].Dot(p), t[1].Dot(p)}
		x, y = x+flat[i][0], y+flat[i][1]
	}
	n := float64(len(flat))
	for _, p := range flat {
		a, b := p[0]-x/n, p[1]-y/n
		xx, xy, yy = xx+a*a, xy+a*b, yy+b*b
	}
	w, d = boxAt(flat, 0)
	if v, e := boxAt(flat, math.Atan2(2*xy, xx-yy)/2); v*e < w*d {
		return v, e
	}
	return w, d
}

// tall is the price of height.
func (f *facts) tall(down geom.Vec) float64 {
	return f.height(down) * heightWeight * math.Sqrt(f.facing.area)
}

func (f *facts) filamentPoses() []*pose {
	var list []*pose
	for i, b := range f.bases {
		foot := f.contact[i]
		if foot == 0 {
			continue
		}
		o := &pose{down: b.Normal, foot: foot, overhang: max(f.facing.at(b.Normal).steep-foot, 0)}
		o.cost = o.overhang - foot + f.tall(b.Normal)
		if f.height(b.Normal) > slender*f.width[i] {
			o.cost += f.facing.area
		}
		list = append(list, o)
	}
	if len(list) == 0 {
		list = append(list, &pose{down: f.lowest()})
	}
	return list
}

func (f *facts) resinPoses() []*pose {
	list := f.tilted()
	if o := f.smallPose(); o != nil {
		list = append(list, o)
	}
	return list
}

// smallPose stands a small part on its foot, if it has one.
func (f *facts) smallPose() (best *pose) {
	if f.Clear() {
		return nil
	}
	for i, b := range f.bases {
		foot, height := f.contact[i], f.height(b.Normal)
		if foot == 0 || foot > smallFoot || height > smallHeight || height > slender*f.width[i] {
			continue
		}
		over := f.facing.at(b.Normal).steep - foot
		if over <= foot/4 && (best == nil || foot > best.foot) {
			best = &pose{down: b.Normal, foot: foot, cost: -math.MaxFloat32}
		}
	}
	return best
}

// tilted tries turns all round, in steps about the model's x and y axes, the
// smaller first; among equals, a part and its mirror image take mirrored ones.
func (f *facts) tilted() []*pose {
	var list []*pose
	add := func(x, y float64) {
		t := turnOf(x, y, 0)
		list = append(list, f.onSupports(t[2].Times(-1)))
	}
	for x := 0; x <= 180; x += gridStep {
		for y := 0; y < 90; y += gridStep {
			for _, side := range [4][2]int{{1, 1}, {1, -1}, {-1, 1}, {-1, -1}} {
				if (side[0] > 0 || x > 0 && x < 180) && (side[1] > 0 || y > 0) {
					add(float64(side[0]*x), float64(side[1]*y))
				}
			}
		}
	}
	add(0, -90)
	add(0, 90)
	return list
}

func (f *facts) onSupports(down geom.Vec) *pose {
	s := f.facing.at(down)
	cost := s.steep + s.film + f.tall(down)
	for _, side := range f.flats {
		if math.Abs(side.Normal.Dot(down)) > cosine(filmAngle) {
			cost += side.Area / 2
		}
	}
	if f.Clear() {
		cost += clearWeight * s.marked
	}
	return &pose{down: down, cost: cost}
}

// says words how a part lies on a printer: what follows its name.
func (f *facts) says(o *pose, process string) string {
	switch {
	case process == kits.Filament && o.foot == 0:
		return "has no flat face to lie on; lies as low as possible, on supports"
	case process == kits.Filament && o.overhang > o.foot/10:
		return fmt.Sprintf("lies on a flat face of %.0f mm2; %.0f mm2 overhang", o.foot, o.overhang)
	case process == kits.Filament:
		return fmt.Sprintf("lies on a flat face of %.0f mm2", o.foot)
	case o.foot > 0:
		return fmt.Sprintf("is small: stands on a flat face of %.0f mm2", o.foot)
	}
	why := "stands on supports"
	if len(f.flats) > 0 {
		angle := degrees(math.Acos(min(math.Abs(f.flats[0].Normal.Dot(o.down)), 1)))
		if angle > 85 {
			why += ", its largest side upright"
		} else {
			why += fmt.Sprintf(", its largest side %.0f degrees from the bed", angle)
		}
	}
	if f.Clear() {
		why += "; clear, so little of it faces the supports"
	}
	return why
}

func cosine(degrees float64) float64 { return math.Cos(radians(degrees)) }
