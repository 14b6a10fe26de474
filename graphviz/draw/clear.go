package draw

import (
	"math"
	"slices"

	"dryfit/kits/geom"
)

const (
	maxAway     = 6    // most pieces left out of a picture
	clearedSeat = 0.5  // share of a seat above which nothing more is left out
	tooSmall    = 0.04 // share of what hides a seat below which a piece is not worth leaving out
)

// clear paints the pieces in place, leaving out those that hide the seats, and then the
// new ones. It returns the shares of the seats and of the new pieces that can be seen, of
// the worst mover, counted in pixels of the picture.
func (t *painter) clear() (seat, news float64) {
	seats := t.seats()
	still := t.paintStill()
	seat = t.seat(still, seats)
	for len(t.away) < maxAway && seat < LeastSeat || len(t.away) > 0 && len(t.away) < maxAway && seat < clearedSeat {
		p := t.mostHiding(still, seats)
		if p < 0 {
			break
		}
		t.leaveOut(p)
		still = t.paintStill()
		seat = t.seat(still, seats)
	}
	t.buffer = still
	news = 1
	for i := range t.fresh {
		news = math.Min(news, still.uncovered(newBuffer(still.frame, t.moved(i)...)))
	}
	for i := range t.movers {
		t.buffer.add(t.moved(i)...)
	}
	return seat, news
}

// seats are the movers where they belong, each alone on a picture.
func (t *painter) seats() []*buffer {
	list := make([]*buffer, len(t.movers))
	for i, m := range t.movers {
		list[i] = newBuffer(t.frame(), t.s.things(false, m.Pieces, geom.Vec{})...)
	}
	return list
}

func (t *painter) paintStill() *buffer {
	return newBuffer(t.frame(), t.standing()...)
}

// seat is how much can be seen of the seats.
func (t *painter) seat(still *buffer, seats []*buffer) float64 {
	var list []float64
	for _, s := range seats {
		list = append(list, still.uncovered(s))
	}
	return shown(t.scene, list)
}

// mostHiding is the piece that hides most of the seats and may be left out; -1 if
// none does.
func (t *painter) mostHiding(still *buffer, seats []*buffer) int {
	kept := slices.Concat(t.scene.Onto, t.scene.Emphasis)
	hides, all := map[int]int{}, 0
	slack := float32(behind / still.scale)
	for _, s := range seats {
		if still.uncovered(s) >= clearedSeat {
			continue
		}
		for i, id := range s.id {
			if id != 0 {
				all++
				if s.depth[i] > still.depth[i]+slack {
					hides[int(still.id[i])-1]++
				}
			}
		}
	}
	best := -1
	for _, p := range t.still {
		if !slices.Contains(kept, p) && hides[p] > 0 && (best < 0 || hides[p] > hides[best]) {
			best = p
		}
	}
	if best >= 0 && float64(hides[best]) < tooSmall*float64(all) {
		return -1
	}
	return best
}

func (t *painter) leaveOut(p int) {
	t.away = append(t.away, p)
	t.still = slices.DeleteFunc(slices.Clone(t.still), func(q int) bool { return q == p })
}
