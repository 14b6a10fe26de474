package balance

import (
	"fmt"
	"math"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// slack is the share by which arithmetic and rounded figures in a kit may be off: 28.3
// cm3 is meant for 28.26.
const slack = 0.002

// Findings lists what a designer should know of the balance. Nothing is found of a kit
// that does not say enough.
func (r *Result) Findings() []plan.Finding {
	if r.Of.Ballast == nil {
		return nil
	}
	var list []plan.Finding
	list = append(list, r.room()...)
	if r.Known && r.Placed {
		list = append(list, r.standing()...)
		list = append(list, r.out()...)
	}
	return list
}

func (r *Result) finding(g plan.Grade, at kits.Pos, text string) plan.Finding {
	f := plan.Finding{Kind: plan.Balances, Grade: g, Piece: r.Of.Ballast.ID, Text: text, Because: []plan.Reason{}, Repairs: []plan.Repair{}}
	return f.Placed(at)
}

// room: the ballast must fit where it goes.
func (r *Result) room() []plan.Finding {
	b := r.Of
	mass := math.Max(r.Stated, r.Needed)
	takes := mass / b.Pack
	if b.Room == 0 || takes <= b.Room*(1+slack) {
		return nil
	}
	f := r.finding(plan.Fault, b.RoomPos, fmt.Sprintf("%s has no room: %.0f g take %.1f cm3, and there is room for %.1f cm3, or %.0f g", b.Ballast.ID, mass, takes, b.Room, b.Room*b.Pack))
	inside := fmt.Sprintf("the room is %.1f cm3", b.Room)
	if b.Inside != nil {
		inside = fmt.Sprintf("the room is %s mm inside, %.1f cm3", sides(b.Inside.XYZ), b.Room)
	}
	f.Because = []plan.Reason{
		{Text: inside, At: b.RoomPos.String()},
		{Text: fmt.Sprintf("%.0f g that lie at %g g/cm3 take %.1f cm3", mass, b.Pack, takes), At: b.Pos.String()},
	}
	if b.Inside != nil {
		f.Repairs = append(f.Repairs, plan.Repair{Text: fmt.Sprintf("make it at least %s mm inside", sides(grown(b.Inside.XYZ, takes/b.Room)))})
	} else {
		f.Repairs = append(f.Repairs, plan.Repair{Text: fmt.Sprintf("make room for %.1f cm3", math.Ceil(takes*10)/10)})
	}
	f.Repairs = append(f.Repairs, plan.Repair{Text: fmt.Sprintf("take ballast that lies at %.1f g/cm3 or more", math.Ceil(mass/b.Room*10)/10)})
	return []plan.Finding{f}
}

// grown makes the shortest side of a box longer, up to half a mm.
func grown(s [3]float64, by float64) [3]float64 {
	k := 0
	for i := range s {
		if s[i] < s[k] {
			k = i
		}
	}
	s[k] = math.Ceil(s[k]*by*2-1e-9) / 2
	return s
}

func sides(s [3]float64) string { return fmt.Sprintf("%.4g x %.4g x %.4g", s[0], s[1], s[2]) }

// Axis is the letter of the axis that the balance is along.
func (r *Result) Axis() string { return "xyz"[r.Of.Along : r.Of.Along+1] }

// Off is how far, in mm, a place is beyond the support, away from the ballast; negative
// on the ballast's side.
func (r *Result) Off(at float64) float64 {
	if r.BallastAt < r.Of.Support {
		return at - r.Of.Support
	}
	return r.Of.Support - at
}

// standing: where the finished model balances.
func (r *Result) standing() []plan.Finding {
	b := r.Of
	if !r.Possible {
		f := r.finding(plan.Fault, b.Pos, fmt.Sprintf("%s cannot bring the model to balance at %s = %.0f mm: at %.0f mm it is not beyond that", b.Ballast.ID, r.Axis(), r.Target, r.BallastAt))
		f.Because = r.because()
		f.Repairs = []plan.Repair{{Text: "put the ballast farther from the support"}}
		return []plan.Finding{f}
	}
	if r.Stated == 0 || r.Stated >= r.Needed*(1-slack) {
		return nil
	}
	grade, text := plan.Caution, fmt.Sprintf("%.0f g of %s are little: the finished model balances at %s = %.0f mm, %.0f mm from its support where %.0f mm are wanted",
		r.Stated, b.Ballast.ID, r.Axis(), r.Finished.At, -r.Off(r.Finished.At), b.Margin)
	if off := r.Off(r.Finished.At); off >= 0 {
		grade = plan.Fault
		text = fmt.Sprintf("%.0f g of %s are too little: the finished model balances at %s = %.0f mm, %.0f mm beyond its support at %.0f mm, and tips over", r.Stated, b.Ballast.ID, r.Axis(), r.Finished.At, off, b.Support)
	}
	f := r.finding(grade, b.Pos, text)
	f.Because = r.because()
	f.Repairs = []plan.Repair{{Text: fmt.Sprintf("put in %.0f g: mass: %.0f on %s, at %s", math.Ceil(r.Needed), math.Ceil(r.Needed/float64(b.Ballast.Quantity)), b.Ballast.ID, b.Ballast.Pos)}}
	return []plan.Finding{f}
}

func (r *Result) because() []plan.Reason {
	b := r.Of
	at, how := b.Pos, "by meshes and materials"
	if b.Weighed != nil {
		at, how = b.Weighed.Pos, "as weighed"
	}
	return []plan.Reason{
		{Text: fmt.Sprintf("without ballast it weighs %.0f g and balances at %s = %.0f mm, %s", r.Empty.Mass, r.Axis(), r.Empty.At, how), At: at.String()},
		{Text: fmt.Sprintf("it stands at %s = %.0f mm, and must balance %.0f mm from there toward the ballast", r.Axis(), b.Support, b.Margin), At: b.Pos.String()},
	}
}

// out: ballast that cannot be put in is missing from the balance.
func (r *Result) out() []plan.Finding {
	off := r.Off(r.Empty.At)
	if r.Report.Sequence != nil || r.Needed == 0 {
		return nil
	}
	k := r.Report.Kit
	for _, f := range r.Report.Findings {
		if f.Grade != plan.Fault || !slices.ContainsFunc(r.units(k.Copies(r.Of.Ballast)), func(p int) bool { return k.Pieces[p].ID == f.Piece }) {
			continue
		}
		beyond := fmt.Sprintf("%.0f mm beyond its support at %.0f mm", off, r.Of.Support)
		if off < 0 {
			beyond = fmt.Sprintf("only %.0f mm from its support at %.0f mm", -off, r.Of.Support)
		}
		out := r.finding(plan.Caution, r.Of.Pos, fmt.Sprintf("as long as %s cannot be put in, the model balances at %s = %.0f mm, %s", r.Of.Ballast.ID, r.Axis(), r.Empty.At, beyond))
		out.Because = append([]plan.Reason{{Text: fmt.Sprintf("%s is %s", f.Piece, f.Kind)}}, r.because()...)
		return []plan.Finding{out}
	}
	return nil
}
