package report

import (
	"fmt"
	"math"
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/printing"
	"dryfit/plan/rescale"
)

// Rescale reports on a kit at another scale; sizes adds every part with its size
// at both scales. wrote is the kit file that was written for it; empty for none.
func Rescale(r *rescale.Report, sizes bool, wrote string) *Report {
	var b blocks
	b.heading("%s", rescaleVerdict(r))
	b.add(rescaleFacts(r))
	b.add(rescaledPrinters(r)...)
	b.add(entries(r.Findings, false)...)
	if sizes {
		b.heading("Sizes in mm, now and at %s", r.Scaling)
		var lines []string
		for _, part := range r.Parts {
			lines = append(lines, sizeLine(part))
		}
		b.bullets(lines)
		b.add(moveBlocks(r)...)
	}
	if wrote != "" {
		b.text("wrote %s; export the meshes again at %s.", kits.Plain(wrote), r.Scaling.Percent())
	}
	b.see(plan.Hazards(r.Kit))
	return newReport(r.Kit, r.OK(), b, nil, rescaleData(r, wrote))
}

// rescaleVerdict says in one line what was found.
func rescaleVerdict(r *rescale.Report) string {
	text := fmt.Sprintf("%s at %s", r.Kit.Name, r.Scaling)
	if r.Scaling.From != "" {
		text += fmt.Sprintf(", %s of its size at %s", r.Scaling.Percent(), r.Scaling.From)
	}
	result := "nothing breaks"
	if n := plan.CountOf(r.Findings, plan.Fault); n > 0 {
		result = english.Count(n, "fault") + " to fix"
	}
	return text + ": " + result + lesser(r.Findings) + "."
}

// rescaleFacts are the results that take one line each.
func rescaleFacts(r *rescale.Report) document.Facts {
	var list document.Facts
	f := r.Scaling.Factor
	if m := r.Model; m != nil {
		list.Add("model", "%s mm instead of %s mm", sides(*m), sides([3]float64{m[0] / f, m[1] / f, m[2] / f}))
	}
	if ratio := r.Scaling.Ratio(); ratio > 0 {
		const person, figure = 1.75, 54.0 // m, mm
		tall, top := kits.FigureHeight(person, ratio), 1000*person/figure
		list.Add("figures", "a person of 1.75 m stands %.1f mm, %.1f mm to the eye. The size of a figure is not a scale: 54 mm for that person is 1:%.0f to the top of the head and 1:%.0f to the eye; ask which is meant", tall, tall*kits.EyeShare, top, top*kits.EyeShare)
	}
	if mass, was, most, unknown := r.Mass(); mass > 0 {
		text := ""
		if len(unknown) > 0 {
			text = fmt.Sprintf("; without %s of unknown size", english.Count(len(unknown), "part"))
		}
		cube := fmt.Sprintf("; by the cube of the scale, %.3g times", f*f*f)
		if math.Abs(mass/was/(f*f*f)-1) > 0.01 {
			cube = fmt.Sprintf(", %.3g times; the cube of the scale, %.3g, holds for solid prints only", mass/was, f*f*f)
		}
		list.Add("mass", "%s printed, instead of %s%s%s", grams(mass, most), grams(was, most), cube, text)
	}
	if b := r.Ballast; b != nil && b.Known() {
		list.Add("ballast", "%s needed, instead of %s; the kit for that scale states %s", grams(b.Now.Needed, false), grams(b.Was.Needed, false), grams(b.Now.Stated, false))
	}
	if q := r.Prints; q != nil {
		list.Add("printing", "%s, %s of printer time, instead of %s, %s", english.Count(len(q.Now.Plates), "plate"), machineTime(q.Now), english.Count(len(q.Was.Plates), "plate"), machineTime(q.Was))
		if now, was := rescale.Supports(q.Now), rescale.Supports(q.Was); now+was > 0 {
			list.Add("supports", "%s instead of %s", grams(now, false), grams(was, false))
		}
	}
	list.Add("clearance", "the %.4g mm required in openings and the wires stay as they are", r.Kit.Clearance)
	list.Add("order", "%s", r.Order())
	return list
}

// rescaledPrinters is a table of what each printer prints at both scales.
func rescaledPrinters(r *rescale.Report) []document.Block {
	q := r.Prints
	if q == nil {
		return nil
	}
	var rows [][]string
	add := func(name string, was, now *rescale.Share) {
		row := []string{name}
		for _, x := range []*rescale.Share{was, now} {
			if x.Plates == 0 {
				row = append(row, "none", "", "")
				continue
			}
			row = append(row, strconv.Itoa(x.Plates), between(x.Takes), grams(x.Mass, x.AtMost))
		}
		rows = append(rows, row)
	}
	was, now := rescale.Shares(r.Was.Kit.Printers, q.Was), rescale.Shares(r.Kit.Printers, q.Now)
	for k := range now {
		add(now[k].Printer.ID, &was[k], &now[k])
	}
	var b blocks
	b.add(document.NewTable([]string{"printer", "plates now", "run", "with supports", "at " + r.Scaling.String(), "run", "with supports"}, rows...))
	return b
}

func machineTime(p *printing.Plan) string {
	text := between(rescale.MachineTime(p))
	without := 0
	for _, part := range p.Parts {
		if !part.Fits() {
			without++
		}
	}
	if without > 0 {
		text += fmt.Sprintf(" (without %s that no printer takes)", english.Count(without, "part"))
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
	return figure(v[0]) + " x " + figure(v[1]) + " x " + figure(v[2])
}

// moveBlocks say where pieces of fixed size go.
func moveBlocks(r *rescale.Report) []document.Block {
	var b blocks
	var lines []string
	for _, m := range r.Moves() {
		lines = append(lines, fmt.Sprintf("%s: %s", r.Kit.Pieces[m.Piece].ID, english.Vector(m.By.Round(2))))
	}
	if lines != nil {
		b.heading("Pieces of fixed size move by x, y, z in mm")
		b.bullets(lines)
	}
	return b
}
