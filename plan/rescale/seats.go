package rescale

import (
	"fmt"
	"math"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/magnets"
)

// Seat is the room of a piece of fixed size along an axis of the model: between the walls
// on both sides of it, as its mesh and theirs tell.
type Seat struct {
	Piece   int
	Axis    int    // 0, 1, 2 for x, y, z
	Walls   [2]int // the pieces on both sides
	Was     float64
	Now     float64
	Own     float64 // what the piece takes there
	Needs   float64 // that, and what else of fixed size stands between the walls
	Between []int   // that
}

// Spare is what is left of the room at the new scale, mm; less than 0 if it is too small.
func (s *Seat) Spare() float64 { return s.Now - s.Needs }

// tooTight is by how much a room may be too small: round walls are drawn with flat sides.
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

// seatFindings tells of each part in one finding.
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
			list = append(list, r.tight(p, s))
		}
		if s := loose[p]; len(s) > 0 {
			list = append(list, r.looseSeat(p, s))
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

func (r *Report) tight(p *kits.Part, seats []Seat) plan.Finding {
	f := finding(Seating, plan.Fault, fmt.Sprintf("%s keeps its size and does not fit its place at %s", r.named(p), r.Scaling))
	f.Piece = r.Kit.Pieces[seats[0].Piece].ID
	var most []string
	for _, s := range seats {
		f.Because = append(f.Because, r.says(&s))
		if own := s.Now - (s.Needs - s.Own); own > 0 {
			most = append(most, fmt.Sprintf("%s along %s", r.mm(math.Floor(own*100+1e-6)/100), axisName(s.Axis)))
		}
	}
	f.Repairs = []plan.Repair{{Text: keepRoom}}
	if len(most) == len(seats) {
		f.Repairs = append(f.Repairs, plan.Repair{Text: "choose a smaller one, with at most " + strings.Join(most, ", ")})
	}
	return f
}

const keepRoom = "keep its room as it is now when the parts around it are scaled"

func (r *Report) looseSeat(p *kits.Part, seats []Seat) plan.Finding {
	f := finding(Seating, plan.Caution, fmt.Sprintf("%s keeps its size and sits loose at %s", r.named(p), r.Scaling))
	f.Piece = r.Kit.Pieces[seats[0].Piece].ID
	for _, s := range seats {
		f.Because = append(f.Because, r.says(&s))
	}
	f.Repairs = []plan.Repair{{Text: keepRoom}, {Text: "choose a larger one, or print a sleeve for it"}}
	return f
}

// says words a seat.
func (r *Report) says(s *Seat) plan.Reason {
	walls := r.Kit.Pieces[s.Walls[0]].ID
	if other := r.Kit.Pieces[s.Walls[1]].ID; s.Walls[1] != s.Walls[0] {
		walls += " and " + other
	}
	with := ""
	if len(s.Between) > 0 {
		var names []string
		for _, p := range s.Between {
			names = append(names, r.Kit.Pieces[p].ID)
		}
		with = " with " + some(names)
	}
	verb := "leaves"
	if s.Walls[0] != s.Walls[1] {
		verb = "leave"
	}
	p := r.Kit.Pieces[s.Piece]
	return plan.Reason{At: p.Part.Pos.String(), Text: fmt.Sprintf("along %s %s %s it %s now and %s at %s; %s%s takes %s",
		axisName(s.Axis), walls, verb, r.mm(s.Was), r.mm(s.Now), r.Scaling, p.ID, with, r.mm(s.Needs))}
}

// named is a part with its copies.
func (r *Report) named(p *kits.Part) string {
	if p.Quantity == 1 {
		return p.Label()
	}
	return fmt.Sprintf("%s (%d copies)", p.Label(), p.Quantity)
}

func axisName(axis int) string { return "xyz"[axis : axis+1] }

// pocketsBySize holds the pockets that the kit states of magnets without a mesh against
// their sizes.
func (r *Report) pocketsBySize() []plan.Finding {
	var list []plan.Finding
	for _, m := range r.Kit.Magnets {
		part := r.Kit.Pieces[m.Pieces[0]].Part
		wider, deeper, known := magnets.Slack(m, part)
		if !known || !part.FixedSize || r.mesh(m.Pieces[0]) != nil {
			continue
		}
		f := r.Scaling.Factor
		p := m.Pocket
		was := fmt.Sprintf("its pocket of %s is %s at %s, and it is %s", r.mm(p.Diameter/f, p.Depth/f), r.mm(p.Diameter, p.Depth), r.Scaling, r.mm(p.Diameter-wider, p.Depth-deeper))
		var out plan.Finding
		switch {
		case min(wider, deeper) < -tooTight:
			out = finding(Seating, plan.Fault, fmt.Sprintf("%s keeps its size and does not fit its place at %s: %s", r.named(part), r.Scaling, was))
		case wider > adrift && wider+p.Diameter/f-p.Diameter <= located:
			out = finding(Seating, plan.Caution, fmt.Sprintf("%s keeps its size and sits loose at %s: %s", r.named(part), r.Scaling, was))
		default:
			continue
		}
		out.Piece = r.Kit.Pieces[m.Pieces[0]].ID
		out.Because = []plan.Reason{{Text: "pocket of " + part.ID, At: p.Pos.String()}}
		out.Repairs = []plan.Repair{{Text: keepRoom}}
		list = append(list, out)
	}
	return list
}

// seatsBySize: without meshes nothing tells of pockets. A piece that was slimmer than all
// it is fitted to, and is not any more, has no place in it.
func (r *Report) seatsBySize() []plan.Finding {
	var list []plan.Finding
	done := map[*kits.Part]bool{}
	for _, j := range r.Kit.Joins {
		for _, p := range j.Pieces {
			part := r.Kit.Pieces[p].Part
			if j.IsClose() || done[part] || !part.FixedSize || part.Size == nil || r.mesh(p) != nil {
				continue
			}
			done[part] = true
			if f, is := r.noPlace(p, j); is {
				list = append(list, f)
			}
		}
	}
	return list
}

func (r *Report) noPlace(p int, j *kits.Join) (plan.Finding, bool) {
	part := r.Kit.Pieces[p].Part
	slim := smallest(part.Size.XYZ)
	var slimmer []string
	for _, o := range j.Onto {
		host := r.Kit.Pieces[o].Part
		if host.FixedSize || host.Size == nil || !host.ToPrint() {
			continue
		}
		if now := smallest(host.Size.XYZ); now <= slim && now/r.Scaling.Factor > slim {
			slimmer = append(slimmer, fmt.Sprintf("%s, %s where it is slimmest, instead of %s", host.ID, r.mm(now), r.mm(now/r.Scaling.Factor)))
		}
	}
	if len(slimmer) == 0 {
		return plan.Finding{}, false
	}
	f := finding(Seating, plan.Caution, fmt.Sprintf("%s keeps its size, %s, and becomes as thick as what it is fitted to: %s; by sizes only", r.named(part), r.mm(part.Size.XYZ[:]...), strings.Join(slimmer, "; ")))
	f.Piece = r.Kit.Pieces[p].ID
	f.Because = []plan.Reason{{Text: part.ID + " does not scale", At: part.Pos.String()}}
	f.Repairs = []plan.Repair{{Text: "choose a smaller one, or thicken what it is fitted to"}}
	return f, true
}

func smallest(v [3]float64) float64 { return min(v[0], v[1], v[2]) }
