package balance

import (
	"fmt"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// slack is the relative error allowed for arithmetic and rounded figures in a
// kit: 28.3 cm3 may mean 28.26 (ours).
const slack = 0.002

// Findings lists what a designer should know of the balance; nothing if the kit
// does not state enough.
func (r *Result) Findings() []plan.Finding {
	if r.Of.Ballast == nil {
		return nil
	}
	var list []plan.Finding
	for _, of := range []func() (plan.Finding, bool){r.room, r.standing, r.out} {
		if f, found := of(); found {
			list = append(list, f)
		}
	}
	return list
}

func (r *Result) finding(g plan.Grade, at kits.Pos, format string, args ...any) plan.Finding {
	return plan.NewFinding(plan.Balances, g, fmt.Sprintf(format, args...)).About(r.Of.Ballast.ID).Placed(at)
}

// room reports ballast that does not fit where it goes.
func (r *Result) room() (f plan.Finding, found bool) {
	b := r.Of
	mass := math.Max(r.Stated, r.Needed)
	takes := mass / b.Pack
	if b.Room == 0 || takes <= b.Room*(1+slack) {
		return f, false
	}
	is, repair := fmt.Sprintf("the room is %.1f cm3", b.Room), fmt.Sprintf("make room for %.1f cm3", math.Ceil(takes*10)/10)
	if b.Inside != nil {
		is = fmt.Sprintf("the room is %s mm inside, %.1f cm3", sides(b.Inside.XYZ), b.Room)
		repair = fmt.Sprintf("make it at least %s mm inside", sides(grown(b.Inside.XYZ, takes/b.Room)))
	}
	return r.finding(plan.Fault, b.RoomPos, "%s has no room: %.0f g take %.1f cm3, and there is room for %.1f cm3, or %.0f g", b.Ballast.ID, mass, takes, b.Room, b.Room*b.Pack).
		Since(is, b.RoomPos).
		Since(fmt.Sprintf("%.0f g that lie at %g g/cm3 take %.1f cm3", mass, b.Pack, takes), b.Pos).
		Suggest(repair, fmt.Sprintf("use ballast that lies at %.1f g/cm3 or more", math.Ceil(mass/b.Room*10)/10)), true
}

// grown makes the shortest side of a box longer, up to half a mm.
func grown(s geom.Vec, by float64) geom.Vec {
	k := slices.Index(s[:], min(s[0], s[1], s[2]))
	s[k] = math.Ceil(s[k]*by*2-1e-9) / 2
	return s
}

func sides(s geom.Vec) string { return fmt.Sprintf("%.4g x %.4g x %.4g", s[0], s[1], s[2]) }

// Axis is the letter of the axis that the balance is along.
func (r *Result) Axis() string { return geom.AxisName(r.Of.Along) }

// Off is how far, in mm, a place is beyond the support, away from the ballast; negative
// on the ballast's side.
func (r *Result) Off(at float64) float64 {
	if r.BallastAt < r.Of.Support {
		return at - r.Of.Support
	}
	return r.Of.Support - at
}

// standing reports where the finished model balances, if that is wrong.
func (r *Result) standing() (f plan.Finding, found bool) {
	b, at := r.Of, r.Finished.At
	switch off := r.Off(at); {
	case !r.Known || !r.Placed:
		return f, false
	case !r.Possible:
		return r.because(r.finding(plan.Fault, b.Pos, "%s cannot bring the model to balance at %s = %.0f mm: at %.0f mm it is not beyond that", b.Ballast.ID, r.Axis(), r.Target, r.BallastAt)).
			Suggest("put the ballast farther from the support"), true
	case r.Stated == 0 || r.Stated >= r.Needed*(1-slack):
		return f, false
	case off < 0:
		f = r.finding(plan.Caution, b.Pos, "%.0f g of %s is little: the finished model balances at %s = %.0f mm, %.0f mm from its support where %.0f mm are wanted", r.Stated, b.Ballast.ID, r.Axis(), at, -off, b.Margin)
	default:
		f = r.finding(plan.Fault, b.Pos, "%.0f g of %s is too little: the finished model balances at %s = %.0f mm, %.0f mm beyond its support at %.0f mm, and tips over", r.Stated, b.Ballast.ID, r.Axis(), at, off, b.Support)
	}
	return r.because(f).Suggest(fmt.Sprintf("put in %.0f g: mass: %.0f on %s, at %s", math.Ceil(r.Needed), math.Ceil(r.Needed/float64(b.Ballast.Quantity)), b.Ballast.ID, b.Ballast.Pos)), true
}

// because adds what the model weighs and where its support is.
func (r *Result) because(f plan.Finding) plan.Finding {
	b := r.Of
	at, how := b.Pos, "by meshes and materials"
	if b.Weighed != nil {
		at, how = b.Weighed.Pos, "as weighed"
	}
	return f.
		Since(fmt.Sprintf("without ballast it weighs %.0f g and balances at %s = %.0f mm, %s", r.Empty.Mass, r.Axis(), r.Empty.At, how), at).
		Since(fmt.Sprintf("it stands at %s = %.0f mm, and must balance %.0f mm from there toward the ballast", r.Axis(), b.Support, b.Margin), b.Pos)
}

// out reports ballast that cannot be put in, and so is missing from the balance.
func (r *Result) out() (f plan.Finding, found bool) {
	if !r.Known || !r.Placed || r.Report.Sequence != nil || r.Needed == 0 {
		return f, false
	}
	k := r.Report.Kit
	units := k.IDs(r.units(k.Copies(r.Of.Ballast)))
	i := slices.IndexFunc(r.Report.Findings, func(f plan.Finding) bool {
		return f.Grade == plan.Fault && slices.Contains(units, f.Piece)
	})
	if i < 0 {
		return f, false
	}
	out := r.Report.Findings[i]
	beyond := fmt.Sprintf("only %.0f mm from its support", -r.Off(r.Empty.At))
	if off := r.Off(r.Empty.At); off >= 0 {
		beyond = fmt.Sprintf("%.0f mm beyond its support", off)
	}
	return r.because(r.finding(plan.Caution, r.Of.Pos, "as long as %s cannot be put in, the model balances at %s = %.0f mm, %s at %.0f mm", r.Of.Ballast.ID, r.Axis(), r.Empty.At, beyond, r.Of.Support).
		Since(fmt.Sprintf("%s is %s", out.Piece, out.Kind), kits.Pos{})), true
}
