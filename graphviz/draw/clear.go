package draw

import (
	"dryfit/kits/geom"
	"math"
)

const (
	maxAway     = 6    // pieces that are left out of a picture at most
	clearedSeat = 0.5  // share of a seat from which on nothing more is left out
	tooSmall    = 0.04 // share of what hides a seat below which a piece is not worth leaving out
)

// clear paints what stands still, leaving out pieces that hide the seats, and then
// what is new. It returns the shares of the seats and of the new pieces that can be
// seen, those of the worst mover, counted in the pixels of the picture.
func (t *painter) clear() (seat, news float64) {
	seats := t.seats()
	still := t.paintStill()
	seat = t.seat(still, seats)
	for len(t.away) < maxAway && seat < leastSeat || len(t.away) > 0 && len(t.away) < maxAway && seat < clearedSeat {
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
		away := newBuffer(still.frame)
		away.add(t.moved(i)...)
		news = math.Min(news, still.uncovered(away))
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
		list[i] = newBuffer(t.frame())
		list[i].add(t.s.things(false, m.Pieces, geom.Vec{})...)
	}
	return list
}

func (t *painter) paintStill() *buffer {
	b := newBuffer(t.frame())
	for _, th := range t.s.things(false, t.still, geom.Vec{}) {
		if t.view.boxShadow(th.body.Box).meets(t.region) {
			b.add(th)
		}
	}
	return b
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
	kept := map[int]bool{}
	for _, p := range t.scene.Onto {
		kept[p] = true
	}
	for _, p := range t.scene.Emphasis {
		kept[p] = true
	}
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
		if !kept[p] && hides[p] > 0 && (best < 0 || hides[p] > hides[best]) {
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
	var rest []int
	for _, q := range t.still {
		if q != p {
			rest = append(rest, q)
		}
	}
	t.still = rest
}
