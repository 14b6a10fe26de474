package rescale

import "math"

// room is what a line measures: the distance between the walls on both sides of a piece,
// and what of fixed size stands between them.
type room struct {
	walls   [2]int  // pieces
	width   float64 // between the walls, at the old scale
	own     float64 // of the piece
	needs   float64 // the piece, and what else of fixed size stands between
	between []int   // that, the piece itself left out
}

// between is the room that a line finds around a piece; false if there are no walls on
// both sides, or if the piece is drawn into one.
func (r *Report) between(p *probe, l *sight) (room, bool) {
	from, to, in := chord(l.hits, int32(p.piece))
	if !in {
		return room{}, false
	}
	middle := (from + to) / 2
	w := room{own: to - from, needs: to - from, walls: [2]int{-1, -1}}
	low, high := math.Inf(-1), math.Inf(1)
	for _, h := range l.hits {
		wall := int(h.piece) != p.piece && r.scales(int(h.piece))
		switch {
		case !wall:
		case h.along <= middle:
			low, w.walls[0] = h.along, int(h.piece)
			if h.enters {
				w.walls[0] = -1
			}
		case h.along < high:
			high = h.along
			if h.enters {
				w.walls[1] = int(h.piece)
			}
		}
	}
	if w.walls[0] < 0 || w.walls[1] < 0 {
		return room{}, false
	}
	w.width = high - low
	seen := map[int32]bool{int32(p.piece): true}
	for _, h := range l.hits {
		if h.along < low || h.along > high || seen[h.piece] || r.scales(int(h.piece)) {
			continue
		}
		seen[h.piece] = true
		if a, b, in := chord(l.hits, h.piece); in && (a+b)/2 > low && (a+b)/2 < high {
			w.needs += b - a
			w.between = append(w.between, int(h.piece))
		}
	}
	return w, true
}

// chord is from where to where a line is in a piece, hollows ignored.
func chord(hits []hit, piece int32) (from, to float64, in bool) {
	from, to = math.Inf(1), math.Inf(-1)
	for _, h := range hits {
		if h.piece == piece {
			from, to = min(from, h.along), max(to, h.along)
		}
	}
	return from, to, to > from
}

// concerns reports that a room is about the piece and not about what is much larger
// beside it, whose own room it is.
func (w *room) concerns() bool { return w.needs-w.own <= 1.5*w.own }

// spare is what is left of a room at a scale.
func (w *room) spare(factor float64) float64 { return factor*w.width - w.needs }

// alike is by how much two rooms may differ and be taken for the same.
const alike = 0.05 // mm

// tightest is the room of a probe with the least to spare at a scale, of those that pass;
// of about as tight ones that in which the piece is longest, which is what people measure.
func (r *Report) tightest(p *probe, factor float64, pass func(*room) bool) (room, bool) {
	var list []room
	least := math.Inf(1)
	for i := range p.lines {
		if w, is := r.between(p, &p.lines[i]); is && pass(&w) {
			list = append(list, w)
			least = min(least, w.spare(factor))
		}
	}
	var best room
	for _, w := range list {
		if w.spare(factor) <= least+alike && w.own > best.own {
			best = w
		}
	}
	return best, len(list) > 0
}
