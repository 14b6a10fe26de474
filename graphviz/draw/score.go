package draw

import (
	"math"
	"slices"

	"dryfit/kits/geom"
)

// score is how well a view suits a scene.
type score struct {
	seat, new float64   // shares that are not hidden, of the worst mover
	distance  []float64 // how far each mover is drawn from its seat, mm
	cost      float64   // lower is better
}

const (
	roughPixels = 220  // longer side of the picture that a view is judged by
	enoughSeat  = 0.35 // share of the seat that must be seen for a good view
	goodSeat    = 0.70 // above this, seeing more is no better
	LeastSeat   = 0.20 // the share of a seat below which it counts as hidden ("under about 20 %", common practice)
	leastNew    = 0.60
)

// Costs of what makes a picture hard to read; about 1 is one change of view. The weights
// are our own.
const (
	costHidden  = 4.0
	costPoor    = 0.6
	costCovered = 2.0
	costEndOn   = 2.0
	costTurn    = 0.8 // another view than the step before
	costOver    = 1.4 // the model is turned upside down
)

// costView is the cost of a view whatever it shows.
var costView = map[string]float64{"above": 0, "high": 0.25, "side": 0.7, "below": 0.5, "deep": 0.7}

// judge scores a view of a scene, with rough bodies.
func (s *Model) judge(scene *Scene, view int) score {
	v := Views[view]
	l := score{seat: 1, new: 1, cost: costView[v.Name]}
	subjects := s.subjects(scene)
	if len(subjects) == 0 {
		return l
	}
	region := noBox()
	for _, m := range subjects {
		seated := shadows(v, s.things(true, m.Pieces, geom.Vec{}))
		region = region.and(seated)
		if len(m.Way) > 0 {
			region = region.and(shadows(v, s.things(true, m.Pieces, m.back(farthestTry*s.reach(&m)))))
		}
	}
	if region.empty() {
		return l
	}
	f := frameFor(v, region, roughPixels, roughPixels)
	still := newBuffer(f, v.reaching(region, s.things(true, scene.Still, geom.Vec{}))...)
	endOn := 0.0
	var seats []float64
	for _, m := range subjects {
		seat, news, d := s.show(still, &m)
		seats, l.new = append(seats, seat), math.Min(l.new, news)
		l.distance = append(l.distance, d)
		if len(m.Way) > 0 {
			endOn = math.Max(endOn, math.Abs(m.Way[len(m.Way)-1].Toward.Dot(v.Ahead)))
		}
	}
	l.seat = shown(scene, seats)
	l.cost += costHidden * math.Max(0, 1-l.seat/LeastSeat)
	l.cost += costHidden * math.Max(0, 1-l.seat/enoughSeat) / 2
	l.cost += costPoor * math.Max(0, 1-l.seat/goodSeat)
	l.cost += costCovered * math.Max(0, 1-l.new/leastNew)
	l.cost += costEndOn * math.Max(0, endOn-0.8) / 0.2
	return l
}

// shown is how much can be seen of the seats: of the worst, or of the two ends of a
// wire together, for one of them is often on the far side.
func shown(scene *Scene, seats []float64) float64 {
	if len(seats) == 0 {
		return 1
	}
	if len(scene.Movers) > 0 {
		return slices.Min(seats)
	}
	sum := 0.0
	for _, s := range seats {
		sum += s
	}
	return sum / float64(len(seats))
}

// subjects are what must be seen: the movers, or the ends of a wire's run.
func (s *Model) subjects(scene *Scene) []Mover {
	var list []Mover
	for _, m := range scene.Movers {
		if len(s.things(true, m.Pieces, geom.Vec{})) > 0 {
			list = append(list, m)
		}
	}
	for _, p := range scene.Emphasis {
		if len(s.things(true, []int{p}, geom.Vec{})) > 0 {
			list = append(list, Mover{Pieces: []int{p}})
		}
	}
	return list
}

// reach is how far a mover must be drawn from its seat to be clear of it: its own
// length along the way, and a gap.
func (s *Model) reach(m *Mover) float64 {
	b, ok := s.box(m.Pieces)
	if !ok || len(m.Way) == 0 {
		return 0
	}
	size, d := b.Size(), m.Way[0].Toward
	along := math.Abs(size[0]*d[0]) + math.Abs(size[1]*d[1]) + math.Abs(size[2]*d[2])
	return 1.1*along + 0.25*size.Length()
}

// tries are the distances, as multiples of its reach, at which a mover may be drawn.
var tries = []float64{1, 1.8, 3}

const farthestTry = 3

// show measures how well a mover can be seen in front of the pieces in place: its seat,
// and itself drawn away from it, at the distance that shows it best.
func (s *Model) show(still *buffer, m *Mover) (seat, news, distance float64) {
	seated := newBuffer(still.frame, s.things(true, m.Pieces, geom.Vec{})...)
	seat = still.uncovered(seated)
	if len(m.Way) == 0 {
		return seat, seat, 0
	}
	best := math.Inf(-1)
	for _, times := range tries {
		d := times * s.reach(m)
		away := newBuffer(still.frame, s.things(true, m.Pieces, m.back(d))...)
		seen, hides := still.uncovered(away), away.covers(seated)
		if seen >= leastNew && hides <= 0.3 {
			return seat, seen, d
		}
		value := math.Min(seen, leastNew) - 0.5*math.Max(0, hides-0.3) - 0.05*times
		if value > best {
			best, news, distance = value, seen, d
		}
	}
	return seat, news, distance
}

// behind is how many pixels a surface may lie behind another and count as seen: for
// what lies flush.
const behind = 1.2

// uncovered is the share of what another buffer shows that is not behind this one.
func (b *buffer) uncovered(other *buffer) float64 {
	all, seen := 0, 0
	slack := float32(behind / b.scale)
	for i, id := range other.id {
		if id != 0 {
			all++
			if other.depth[i] <= b.depth[i]+slack {
				seen++
			}
		}
	}
	if all == 0 {
		return 1 // too small for a pixel
	}
	return float64(seen) / float64(all)
}

// covers is the share of what another buffer shows that this one hides.
func (b *buffer) covers(other *buffer) float64 {
	all, hidden := 0, 0
	for i, id := range other.id {
		if id != 0 {
			all++
			if b.id[i] != 0 && b.depth[i] < other.depth[i] {
				hidden++
			}
		}
	}
	if all == 0 {
		return 0
	}
	return float64(hidden) / float64(all)
}

// frameFor fits a region into so many pixels.
func frameFor(v View, region box, width, height int) frame {
	scale := math.Min(float64(width)/math.Max(region.width(), 1e-6), float64(height)/math.Max(region.height(), 1e-6))
	return frame{view: v, scale: scale, left: region.x0, top: region.y0,
		width: max(1, int(math.Ceil(region.width()*scale))), height: max(1, int(math.Ceil(region.height()*scale)))}
}
