package main

import (
	"fmt"
	"io"
	"strings"
	"time"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/rescale"
)

func rescaleText(w io.Writer, r *rescale.Report, o rescaleOptions) error {
	s := styleFor(w)
	p := &printer{w: w}
	p.wrap("", "", s.bold(rescaleVerdict(r)))
	p.line("")
	rescaleFigures(p, r)
	p.line("")
	if p.err != nil {
		return p.err
	}
	if err := findingsText(w, r.Findings, false); err != nil {
		return err
	}
	if o.sizes {
		p.line("%s", s.bold("Sizes in mm, now and at "+r.Scaling.String()))
		for _, part := range r.Parts {
			p.line("  %s", sizeLine(part))
		}
		p.line("")
	}
	if o.write != "" {
		p.wrap("", "", fmt.Sprintf("wrote %s; export the meshes again at %s.", kits.Plain(o.write), r.Scaling.Percent()))
	}
	return p.err
}

// rescaleVerdict says in one line what was found.
func rescaleVerdict(r *rescale.Report) string {
	n := map[plan.Grade]int{}
	for _, f := range r.Findings {
		n[f.Grade]++
	}
	text := fmt.Sprintf("%s at %s", r.Kit.Name, r.Scaling)
	if r.Scaling.From != "" {
		text += fmt.Sprintf(", %s of its size at %s", r.Scaling.Percent(), r.Scaling.From)
	}
	if n[plan.Fault] == 0 {
		text += ": nothing breaks"
	} else {
		text += fmt.Sprintf(": %s to mend", many(n[plan.Fault], "fault"))
	}
	if n[plan.Caution] > 0 {
		text += ", " + many(n[plan.Caution], "caution")
	}
	return text + "."
}

// rescaleFigures tells what can be said in a line each.
func rescaleFigures(p *printer, r *rescale.Report) {
	say := func(what, text string) { p.wrap(fmt.Sprintf("  %-11s", what), strings.Repeat(" ", 13), text) }
	f := r.Scaling.Factor
	if m := r.Model; m != nil {
		say("model", fmt.Sprintf("%s mm instead of %s mm", sides(*m), sides([3]float64{m[0] / f, m[1] / f, m[2] / f})))
	}
	if ratio := r.Scaling.Ratio(); ratio > 0 {
		tall := kits.FigureHeight(1.75, ratio)
		say("figures", fmt.Sprintf("a person of 1.75 m stands %.1f mm, %.1f mm to the eye. Sizes of figures such as 54 mm are no scales: that is 1:32 by name, and sold from 1:29 to 1:35; ask whether the eye or the top of the head is meant", tall, tall*kits.EyeShare))
	}
	if mass, most, unknown := r.Mass(); mass > 0 {
		text := fmt.Sprintf("%s printed, instead of %s; by the cube of the scale, %.3g times", grams(mass, most), grams(mass/(f*f*f), most), f*f*f)
		if len(unknown) > 0 {
			text += fmt.Sprintf("; without %s of unknown size", many(len(unknown), "part"))
		}
		say("mass", text)
	}
	if q := r.Prints; q != nil {
		say("printing", fmt.Sprintf("%s, %s of printer time, instead of %s, %s", many(len(q.Now.Plates), "plate"), machineTime(q.Now), many(len(q.Was.Plates), "plate"), machineTime(q.Was)))
	}
	say("clearance", fmt.Sprintf("the %.4g mm asked for in openings and the wires stay as they are", r.Kit.Clearance))
	say("order", r.Order())
}

func machineTime(p *printing.Plan) string {
	low, high := rescale.MachineTime(p)
	text := between(printing.Band{Low: low.Round(time.Minute), High: high.Round(time.Minute)})
	without := 0
	for _, part := range p.Parts {
		if !part.Fits() {
			without++
		}
	}
	if without > 0 {
		text += fmt.Sprintf(" (without %s that no printer takes)", many(without, "part"))
	}
	return text
}

func sides(v [3]float64) string { return fmt.Sprintf("%.1f x %.1f x %.1f", v[0], v[1], v[2]) }

func sizeLine(p *rescale.Part) string {
	switch {
	case p.Was == [3]float64{}:
		return p.Of.ID + ": size not given"
	case p.Of.FixedSize:
		return fmt.Sprintf("%s: %s, fixed", p.Of.ID, threeSides(p.Was))
	}
	return fmt.Sprintf("%s: %s, %s", p.Of.ID, threeSides(p.Was), threeSides(p.Now))
}

func threeSides(v [3]float64) string {
	return fmt.Sprintf("%g x %g x %g", hundredth(v[0]), hundredth(v[1]), hundredth(v[2]))
}
