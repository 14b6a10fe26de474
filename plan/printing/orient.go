package printing

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"dryfit/kits"
)

// Habits of the trade that the choice of a side to lie on follows (common practice;
// the weights are ours):
//
//   - Filament lies on a flat face, as low as it can, with little that overhangs by
//     more than 45 degrees, and not on a narrow one if it stands tall on it.
//   - Resin stands tilted on supports, so that no flat side lies along the film: its
//     layers stay small, and peel off easily. What overhangs steeply costs supports and
//     height costs time.
//   - A small resin part with a flat foot stands on the bed itself.
//   - Clear parts stand so that little of them faces down at all: supports mark it.
const (
	supportAngle = 45.0  // degrees; what faces down more steeply needs support
	filmAngle    = 25.0  // degrees; what is nearer to parallel with the film counts as along it
	clearAngle   = 75.0  // degrees; what of a clear part faces down to within it is marked
	clearWeight  = 10.0  // of that, by the same area elsewhere
	smallFoot    = 150.0 // mm2, of a small part's foot
	smallHeight  = 30.0  // mm, of a small part
	slender      = 5.0   // times as tall as its foot is wide, and it may fall
	heightWeight = 0.5   // of a mm of height, in mm2, times the root of the part's area
	bedWeight    = 0.25  // of a mm2 of bed that the part keeps from others
	gridStep     = 15    // degrees between the turns that are looked at
	raised       = 5.0   // mm that a part on supports stands above the bed
	sideShare    = 0.2   // of the hull's area, from which a flat side is worth a word
)

// pose is a side to lie on.
type pose struct {
	down vec
	foot float64 // mm2 that lie on the bed; 0 on supports
	cost float64 // without the bed that it takes
	why  string
	w, d float64 // about the smallest box on the bed, mm
}

// poses lists the sides that a part can lie on when printed by a process, the best
// first.
func (f *facts) poses(process string) []pose {
	if list, known := f.sides[process]; known {
		return list
	}
	var list []pose
	if process == kits.Filament {
		list = f.filamentPoses()
	} else {
		list = f.resinPoses()
	}
	slices.SortStableFunc(list, func(a, b pose) int { return cmp.Compare(a.cost, b.cost) })
	list = list[:min(len(list), maxPoses)]
	for i := range list {
		ring := shadow(f.rough, standing(list[i].down))
		list[i].w, list[i].d = boxAt(ring, leastBox(ring))
	}
	f.sides[process] = list
	return list
}

// maxPoses bounds the sides that are tried on a printer before any way that fits is
// taken.
const maxPoses = 40

// on is the price of a side with the bed that it takes.
func (o *pose) on(p *kits.Printer) float64 {
	return o.cost + bedWeight*(o.w+p.Margin)*(o.d+p.Margin)
}

// tall is the price of height.
func (f *facts) tall(down vec) float64 {
	return f.height(down) * heightWeight * math.Sqrt(f.facing.area)
}

func (f *facts) filamentPoses() []pose {
	var list []pose
	for i, b := range f.bases {
		foot := f.contact[i]
		if foot == 0 {
			continue
		}
		overhang := max(f.facing.at(b.Normal).steep-foot, 0)
		p := pose{down: b.Normal, foot: foot, cost: overhang - foot + f.tall(b.Normal), why: fmt.Sprintf("lies on a flat face of %.0f mm2", foot)}
		if f.height(b.Normal) > slender*f.width[i] {
			p.cost += f.facing.area
		}
		if overhang > foot/10 {
			p.why += fmt.Sprintf("; %.0f mm2 overhang", overhang)
		}
		list = append(list, p)
	}
	if len(list) == 0 {
		down := f.lowest()
		list = append(list, pose{down: down, why: "has no flat face to lie on; lies as low as it can, on supports"})
	}
	return list
}

func (f *facts) resinPoses() []pose {
	list := f.tilted()
	if p, small := f.smallPose(); small {
		list = append(list, p)
	}
	return list
}

// smallPose stands a small part on its foot.
func (f *facts) smallPose() (best pose, ok bool) {
	for i, b := range f.bases {
		foot, height := f.contact[i], f.height(b.Normal)
		if foot > smallFoot || height > smallHeight || height > slender*f.width[i] {
			continue
		}
		if overhang := f.facing.at(b.Normal).steep - foot; overhang <= foot/4 && foot > best.foot {
			best = pose{down: b.Normal, foot: foot, cost: -math.MaxFloat32, why: fmt.Sprintf("is small: stands on a flat face of %.0f mm2", foot)}
		}
	}
	return best, best.foot > 0 && !f.Clear()
}

// tilted looks at turns all round, in steps about the model's x and y axes.
func (f *facts) tilted() []pose {
	var list []pose
	add := func(x, y float64) {
		t := turnOf(x, y, 0)
		list = append(list, f.onSupports(scaled(t[2], -1)))
	}
	for x := -180; x < 180; x += gridStep {
		for y := -90 + gridStep; y < 90; y += gridStep {
			add(float64(x), float64(y))
		}
	}
	add(0, -90)
	add(0, 90)
	return list
}

func (f *facts) onSupports(down vec) pose {
	s := f.facing.at(down)
	cost := s.steep + s.film + f.tall(down)
	for _, side := range f.flats {
		if math.Abs(dot(side.Normal, down)) > cosine(filmAngle) {
			cost += side.Area / 2
		}
	}
	if f.Clear() {
		cost += clearWeight * s.marked
	}
	return pose{down: down, cost: cost, why: f.saysTilt(down)}
}

// saysTilt words a turn on supports, by the angle between the bed and the largest flat
// side if there is one to speak of.
func (f *facts) saysTilt(down vec) string {
	why := "stands on supports"
	if len(f.flats) > 0 {
		angle := degrees(math.Acos(min(math.Abs(dot(f.flats[0].Normal, down)), 1)))
		why += fmt.Sprintf(", its largest side %.0f degrees from the bed", angle)
	}
	if f.Clear() {
		why += "; clear, so little of it faces them"
	}
	return why
}

func cosine(degrees float64) float64 { return math.Cos(radians(degrees)) }
