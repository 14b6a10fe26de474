package rescale

import (
	"fmt"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// Wall is what is known of the walls of a printed part, by the mesh of the copy whose
// thinnest is thinnest; at the new scale, mm.
type Wall struct {
	Thinnest float64
	At       geom.Vec // its place in the model at the new scale
	Usual    float64  // half of its surface has thinner walls behind it
	limits
}

// limits are walls of a process, mm.
type limits struct {
	Least   float64 // below this a print does not hold
	Minimum float64 // the least that is advised
	Advised float64 // what walls should have
	basis   string  // of Advised
}

// What the limits rest on, as users are told.
const (
	practice = "common practice"
	ourRule  = "our own rule, by the longest side"
)

// limitsOf are common practice. Filament: two lines, 0.8 mm with the usual line of 0.4;
// 1.2 is advised, for ABS 2.0; PETG and ABS not under 1.0. Resin: 1.0, and never below
// 0.5. For long parts of resin see stiffWall.
func limitsOf(p *kits.Part, size geom.Vec, line float64) limits {
	material, density := "", 0.0
	if p.Material != nil {
		material, density = p.Material.ID, p.Material.Density
	}
	if p.Printed == kits.Resin {
		l := limits{0.5, 1, 1, practice}
		if stiff := stiffWall(slices.Max(size[:]), density); stiff > l.Advised {
			l.Advised, l.basis = stiff, ourRule
		}
		return l
	}
	l := limits{2 * line, 2 * line, max(1.2, 3*line), practice}
	switch material {
	case "petg":
		l.Minimum = max(1, l.Least)
	case "abs":
		l.Minimum, l.Advised = max(1, l.Least), max(2, 3*line)
	}
	return l
}

// stiffWall is the wall in mm that a part needs to keep its shape, by its longest side in
// mm and its density in g/cm3: a rule of our own. It takes the wall for a flat strip that
// lies on its two ends and may sag by a 300th of its length under its own weight. By the
// theory of beams a strip of length L, thickness t, density d and modulus E sags by
// 5/32 d g L^4 / (E t^2), so t grows with L^1.5: 1 mm is enough up to 155 mm, and 300 mm
// need 2.7 mm. Real parts are curved and ribbed, so this errs toward thick walls.
func stiffWall(length, density float64) float64 {
	const (
		gravity = 9.81e-6 // N for each g/cm3 and mm3
		modulus = 2000    // N/mm2, cured resin (common practice: 1500 to 3000)
		sag     = 1. / 300
	)
	t := math.Sqrt(5. / 32 * density * gravity / (modulus * sag) * math.Pow(length, 3))
	return math.Round(10*t) / 10
}

// usualLine is what a nozzle of 0.4 mm lays down (common practice).
const usualLine = 0.4

// line is the narrowest line that a filament printer of the kit lays down.
func (r *Report) line() float64 {
	least := 0.0
	for _, p := range r.Kit.Printers {
		if p.Process == kits.Filament && (least == 0 || p.Line < least) {
			least = p.Line
		}
	}
	if least == 0 {
		return usualLine
	}
	return least
}

// wall looks up what is known of the walls of a part.
func (r *Report) wall(p *kits.Part) *Wall {
	if p.Printed == "" || p.FixedSize {
		return nil
	}
	f := r.Scaling.Factor
	var worst *Wall
	for _, piece := range r.Kit.Copies(p) {
		h := r.Was.Meshes.HealthOf(r.Kit.Pieces[piece].ID)
		if h == nil || h.ThinnestWall == 0 || worst != nil && f*h.ThinnestWall >= worst.Thinnest {
			continue
		}
		size := r.Was.Mesh(piece).Size().Times(f)
		worst = &Wall{f * h.ThinnestWall, geom.Vec(h.ThinAt).Times(f), f * h.UsualWall, limitsOf(p, size, r.line())}
	}
	return worst
}

// before is the wall at the old scale, with the limits of that.
func (r *Report) before(p *Part) *Wall {
	f := r.Scaling.Factor
	return &Wall{p.Wall.Thinnest / f, p.Wall.At, p.Wall.Usual / f, limitsOf(p.Of, p.Was, r.line())}
}

// slack is by how much a wall may be under a limit: meshes are right to about that.
const slack = 0.005

// wallFindings: thinner than what holds is a fault; than what is advised a caution. What
// was so before makes one note.
func (r *Report) wallFindings() []plan.Finding {
	var already []string
	weak, thin, slim := map[string][]*Part{}, map[string][]*Part{}, map[string][]*Part{}
	for _, p := range r.Parts {
		if p.Wall == nil {
			continue
		}
		process := p.Of.Printed
		was, now := r.before(p), p.Wall
		switch {
		case now.Thinnest >= now.Minimum-slack:
		case was.Thinnest < was.Least-slack:
			already = append(already, p.Of.ID)
		case now.Thinnest < now.Least-slack:
			weak[process] = append(weak[process], p)
		case was.Thinnest >= was.Minimum-slack:
			thin[process] = append(thin[process], p)
		}
		if now.Usual < now.Advised-slack && was.Usual >= was.Advised-slack {
			slim[process] = append(slim[process], p)
		}
	}
	f := r.Scaling.Factor
	var list []plan.Finding
	for _, process := range []string{kits.Filament, kits.Resin} {
		list = append(list, r.thinWalls(weak[process], plan.Fault, "too thin somewhere to hold as "+process+" prints", func(w *Wall) string {
			return fmt.Sprintf("%s becomes %s at %s; make it at least %s, %s as it is drawn now", r.mm(w.Thinnest/f), r.mm(w.Thinnest), english.Position(w.At), r.mm(w.Least), r.mm(w.Least/f))
		})...)
		list = append(list, r.thinWalls(thin[process], plan.Caution, "thinner somewhere than the least that is advised for "+process, func(w *Wall) string {
			return fmt.Sprintf("%s becomes %s at %s; advised are %s (%s)", r.mm(w.Thinnest/f), r.mm(w.Thinnest), english.Position(w.At), r.mm(w.Minimum), practice)
		})...)
		list = append(list, r.thinWalls(slim[process], plan.Caution, "thinner on the whole than walls should be in "+process, func(w *Wall) string {
			return fmt.Sprintf("walls of %s become %s; advised are %s (%s)", r.mm(w.Usual/f), r.mm(w.Usual), r.mm(w.Advised), w.basis)
		})...)
	}
	if len(already) > 0 {
		f := plan.NewFinding(Walls, plan.Note, "edges or places too thin to hold at the present scale already, and here too: "+some(already))
		f.Pieces = already
		list = append(list, f)
	}
	return list
}

// thinWalls makes one finding of several parts.
func (r *Report) thinWalls(parts []*Part, g plan.Grade, what string, says func(*Wall) string) []plan.Finding {
	if len(parts) == 0 {
		return nil
	}
	var ids []string
	f := plan.NewFinding(Walls, g, fmt.Sprintf("%s %s", english.Count(len(parts), "part becomes", "parts become"), what))
	for _, p := range parts {
		ids = append(ids, p.Of.ID)
		f = f.Since(p.Of.ID+": "+says(p.Wall), p.Of.Pos)
	}
	if f.Because = more(f.Because); len(ids) > maxLines {
		f.Because[maxLines].Text += ": " + some(ids[maxLines:])
	}
	f.Piece, f.Pieces = ids[0], ids
	f = f.Suggest("thicken them in CAD before they are scaled")
	if parts[0].Of.Printed == kits.Filament && r.has(kits.Resin) {
		f = f.Suggest("print small ones in resin")
	}
	return []plan.Finding{f}
}

// has reports whether the kit names a printer of a process.
func (r *Report) has(process string) bool {
	return slices.ContainsFunc(r.Kit.Printers, func(p *kits.Printer) bool { return p.Process == process })
}
