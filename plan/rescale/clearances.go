package rescale

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// Clearance is the gap on each side of a piece that is taken off the finished model, or
// that closes an opening, mm.
type Clearance struct {
	Piece    int
	Axis     int    // 0, 1, 2 for x, y, z; -1 for an opening that states no axis
	Against  string // the pieces on both sides, or the opening
	Was, Now float64
	BySize   bool // by the sizes in the kit, not by meshes
	process  string
	at       kits.Pos
}

// fits is the clearance on each side by kind of fit, mm: from sliding on a piece moves,
// from loose on it rattles (common practice; resin prints are truer).
var fits = map[string]struct{ sliding, loose float64 }{
	kits.Filament: {0.2, 0.4},
	kits.Resin:    {0.1, 0.3},
}

// Fit names a clearance by what it feels like.
func (c *Clearance) Fit(perSide float64) string {
	f := fits[c.process]
	switch {
	case perSide < f.sliding-slack:
		return "tight"
	case perSide < f.loose-slack:
		return "sliding"
	}
	return "loose"
}

// widest is the largest gap on each side that counts as a fit and not as free room
// (ours).
const widest = 1.0 // mm

// clearances lists the gaps around what is taken off: by meshes along each axis, and by
// the sizes of what closes an opening.
func (r *Report) clearances(probes []*probe) []Clearance {
	f := r.Scaling.Factor
	var list []Clearance
	for _, p := range probes {
		if !r.scales(p.piece) {
			continue
		}
		w, found := r.tightest(p, 1, func(w *room) bool { return len(w.between) == 0 && w.spare(1) > 0 && w.spare(1) <= 2*widest })
		if !found {
			continue
		}
		gap := w.spare(1) / 2
		list = append(list, Clearance{p.piece, p.axis, r.walls(w.walls), gap, f * gap, false, r.processOf(p.piece, w.walls[0], w.walls[1]), r.Kit.Pieces[p.piece].Part.Pos})
	}
	for _, s := range r.Kit.Spaces {
		for _, c := range s.ClosedBy {
			list = append(list, r.lid(s, c)...)
		}
	}
	return list
}

// lid is the gap around a piece that goes into the opening it closes.
func (r *Report) lid(s *kits.Space, c kits.Closer) []Clearance {
	if c.Piece < 0 || c.Opening == nil || c.Opening.Facing == "" {
		return nil
	}
	part := r.Kit.Pieces[c.Piece].Part
	if part.Size == nil || part.FixedSize {
		return nil
	}
	f := r.Scaling.Factor
	a, b := plan.Across(part.Size.XYZ, c.Opening.Facing)
	w, h := (c.Opening.W-a)/2, (c.Opening.H-b)/2
	gap := min(w, h)
	if gap <= 0 || max(w, h) > f*widest {
		return nil // it lies over the opening, or in something else
	}
	return []Clearance{{c.Piece, -1, "the opening it closes into " + s.ID, gap / f, gap, true, r.processOf(c.Piece), c.Opening.Pos}}
}

// walls names the pieces on both sides of a room, which may be the same.
func (r *Report) walls(of [2]int) string {
	return english.And(slices.Compact(r.Kit.IDs(of[:])), 2)
}

// processOf is the process with the coarser fits among those of some pieces.
func (r *Report) processOf(pieces ...int) string {
	for _, p := range pieces {
		if r.Kit.Pieces[p].Part.Printed == kits.Filament {
			return kits.Filament
		}
	}
	return kits.Resin
}

// clearanceFindings: what slid and becomes tight is a caution, and what fitted and
// becomes loose; other changes make one note.
func (r *Report) clearanceFindings() []plan.Finding {
	var list []plan.Finding
	var changed []plan.Reason
	for i := range r.Clearances {
		c := &r.Clearances[i]
		was, now := c.Fit(c.Was), c.Fit(c.Now)
		switch text := r.describe(c, was, now); {
		case now != was && now != "sliding":
			f := fits[c.process]
			list = append(list, plan.NewFinding(Clearances, plan.Caution, text).About(r.Kit.Pieces[c.Piece].ID).
				Since(fmt.Sprintf("for %s a fit slides from %s on each side, and is loose from %s", c.process, r.mm(f.sliding), r.mm(f.loose)), c.at).
				Suggest(fmt.Sprintf("keep the gap of %s when the parts are scaled", r.mm(c.Was))))
		case english.Number(c.Was, 2) != english.Number(c.Now, 2):
			changed = append(changed, plan.Reason{Text: text, At: c.at.String()})
		}
	}
	if len(changed) > 0 {
		f := plan.NewFinding(Clearances, plan.Note, "these clearances change with the scale, and neither bind nor rattle because of it")
		f.Because = more(changed)
		list = append(list, f)
	}
	return list
}

func (r *Report) describe(c *Clearance, was, now string) string {
	along, how, fit := "", "", "still "+now
	if c.Axis >= 0 {
		along = " along " + geom.AxisName(c.Axis)
	}
	if c.BySize {
		how = ", by the sizes in the kit"
	}
	if now != was {
		fit = now + ", and was " + was
	}
	return fmt.Sprintf("%s has %s on each side%s against %s%s, and %s at %s: %s", r.Kit.Pieces[c.Piece].ID, r.mm(c.Was), along, c.Against, how, r.mm(c.Now), r.Scaling, fit)
}
