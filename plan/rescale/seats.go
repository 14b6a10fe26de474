package rescale

import (
	"fmt"
	"math"
	"strings"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// Seat is the room of a piece of fixed size along an axis of the model: between the walls
// on both sides of it, by its mesh and theirs.
type Seat struct {
	Piece   int
	Axis    int    // 0, 1, 2 for x, y, z
	Walls   [2]int // the pieces on both sides
	Was     float64
	Now     float64
	Own     float64 // the length of the piece there
	Needs   float64 // that, and what else of fixed size stands between the walls
	Between []int   // that
}

// Spare is what is left of the room at the new scale, mm; less than 0 if it is too small.
func (s *Seat) Spare() float64 { return s.Now - s.Needs }

// tooTight is by how much a room may be too small: round walls are drawn with flat
// sides (ours).
const tooTight = 0.03 // mm

// located is the most to spare, in all, that still holds a piece in its place, and adrift
// the least that lets it rattle: a pocket has 0.1 to 0.2 mm to spare, a loose fit 0.4 on
// each side (common practice).
const (
	located = 0.5
	adrift  = 0.8
)

// seats lists the rooms of pieces of fixed size: the tightest along each axis, at the
// smaller of the two scales.
func (r *Report) seats(probes []*probe) []Seat {
	var list []Seat
	for _, p := range probes {
		if r.scales(p.piece) {
			continue
		}
		f := r.Scaling.Factor
		if w, found := r.tightest(p, min(f, 1), (*room).concerns); found {
			list = append(list, Seat{p.piece, p.axis, w.walls, w.width, f * w.width, w.own, w.needs, w.between})
		}
	}
	return list
}

// worse reports whether a room is too small at the new scale, and was not before, or not
// by as much.
func (s *Seat) worse() bool {
	return s.Spare() < -tooTight && s.Spare() < s.Was-s.Needs-tooTight
}

// loose reports whether a room held the piece and does not any more.
func (s *Seat) loose() bool { return s.Was-s.Needs <= located && s.Spare() > adrift }

// seatFindings makes one finding for each part.
func (r *Report) seatFindings() []plan.Finding {
	var list []plan.Finding
	tight, loose := map[*kits.Part][]Seat{}, map[*kits.Part][]Seat{}
	for _, s := range r.Seats {
		part := r.Kit.Pieces[s.Piece].Part
		switch {
		case s.worse():
			tight[part] = keepWorst(tight[part], s, func(a, b *Seat) bool { return a.Spare() < b.Spare()-alike })
		case s.loose():
			loose[part] = keepWorst(loose[part], s, func(a, b *Seat) bool { return a.Spare() > b.Spare()+alike })
		}
	}
	for _, p := range r.Kit.Parts {
		if s := tight[p]; len(s) > 0 {
			list = append(list, r.tight(s))
		}
		if s := loose[p]; len(s) > 0 {
			list = append(list, r.because(r.unseated(s[0].Piece, false, ""), s).
				Suggest(keepRoom, "choose a larger one, or print a sleeve for it"))
		}
	}
	return append(append(list, r.pocketsBySize()...), r.seatsBySize()...)
}

// keepWorst keeps one seat for each axis; of copies about as bad the first.
func keepWorst(list []Seat, s Seat, worse func(a, b *Seat) bool) []Seat {
	for i := range list {
		if list[i].Axis == s.Axis {
			if worse(&s, &list[i]) {
				list[i] = s
			}
			return list
		}
	}
	return append(list, s)
}

const keepRoom = "keep its room as it is now when the parts around it are scaled"

// unseated is the finding on a piece whose room is too small, or too large.
func (r *Report) unseated(piece int, small bool, details string) plan.Finding {
	grade, what := plan.Caution, "sits loose"
	if small {
		grade, what = plan.Fault, "does not fit its place"
	}
	pc := r.Kit.Pieces[piece]
	return plan.NewFinding(Seating, grade, fmt.Sprintf("%s keeps its size and %s at %s%s", named(pc.Part), what, r.Scaling, details)).About(pc.ID)
}

// named is a part with its copies.
func named(p *kits.Part) string {
	if p.Quantity == 1 {
		return p.Label()
	}
	return fmt.Sprintf("%s (%d copies)", p.Label(), p.Quantity)
}

func (r *Report) tight(seats []Seat) plan.Finding {
	f := r.because(r.unseated(seats[0].Piece, true, ""), seats).Suggest(keepRoom)
	var most []string
	for _, s := range seats {
		if own := s.Now - (s.Needs - s.Own); own > 0 {
			most = append(most, fmt.Sprintf("%s along %s", r.mm(math.Floor(own*100+1e-6)/100), geom.AxisName(s.Axis)))
		}
	}
	if len(most) == len(seats) {
		f = f.Suggest("choose a smaller one, with at most " + strings.Join(most, ", "))
	}
	return f
}

// because adds what is known of some seats.
func (r *Report) because(f plan.Finding, seats []Seat) plan.Finding {
	for _, s := range seats {
		verb, with := "leave", ""
		if s.Walls[0] == s.Walls[1] {
			verb = "leaves"
		}
		if len(s.Between) > 0 {
			with = " with " + some(r.Kit.IDs(s.Between))
		}
		p := r.Kit.Pieces[s.Piece]
		f = f.Since(fmt.Sprintf("along %s %s %s it %s now and %s at %s; %s%s takes %s",
			geom.AxisName(s.Axis), r.walls(s.Walls), verb, r.mm(s.Was), r.mm(s.Now), r.Scaling, p.ID, with, r.mm(s.Needs)), p.Part.Pos)
	}
	return f
}
