package printing

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
	"dryfit/plan/printing/seen"
)

// Limits for findings on layers (common practice: a layer should not cover more
// than 40 to 50 % of the bed, and its area should not jump; the size of a jump is
// our judgement).
const (
	wideLayer   = 0.40 // of the bed, by one piece
	widePlate   = 0.50 // of the bed, by all pieces of a plate together
	growthLayer = 0.05 // of the bed, from one layer to the next
)

// copiesDiffer is by what share volume and surface of copies may differ.
const copiesDiffer = 0.01

// Findings lists what a designer or builder should know of a plan, faults first.
// missing are the parts that could not be planned.
func (p *Plan) Findings(printers []*kits.Printer, missing []*kits.Part) []plan.Finding {
	var list []plan.Finding
	list = append(list, p.homeless(printers)...)
	list = append(list, coarse(printers)...)
	list = append(list, p.Worse(nil)...)
	list = append(list, p.solid()...)
	if p.Unseen {
		list = append(list, plan.NewFinding(plan.Printing, plan.Note, fmt.Sprintf("the model has more than %d triangles, so which faces are seen is not known, and no face counts as visible", seen.MaxTriangles)).
			Suggest("say with face which faces of a part are visible"))
	}
	if len(missing) > 0 {
		list = append(list, plan.NewFinding(plan.Printing, plan.Caution, "neither mesh nor size, so not planned: "+names(missing)+"; give each a mesh or a size"))
	}
	var boxes []*kits.Part
	for _, part := range p.Parts {
		if part.BySize {
			boxes = append(boxes, part.Of)
		}
	}
	if len(boxes) > 0 {
		list = append(list, plan.NewFinding(plan.Printing, plan.Note, "no mesh, planned as boxes by their sizes, so mass and filament time are upper bounds: "+names(boxes)))
	}
	return list
}

// muchWorse is by how much what is wrong with a part must grow to be told again (ours).
const muchWorse = 1.25

// Worse lists what is wrong with how parts lie and share plates, without what was wrong
// with the same part, and not much less, in a plan before; nil for all. Plates are judged
// by themselves.
func (p *Plan) Worse(before *Plan) []plan.Finding {
	known := map[string][]remark{}
	if before != nil {
		for _, part := range before.Parts {
			known[part.Of.ID] = part.remarks()
		}
	}
	var list []plan.Finding
	of := map[*Part]*Planned{}
	for _, part := range p.Parts {
		of[part.Part] = part
		for _, r := range part.remarks() {
			if !slices.ContainsFunc(known[part.Of.ID], func(o remark) bool { return o.of == r.of && r.much <= muchWorse*o.much }) {
				list = append(list, part.finding(r))
			}
		}
	}
	for _, plate := range p.Plates {
		list = append(list, p.crowded(plate, of)...)
	}
	return append(list, p.plateFindings()...)
}

// maxNames bounds how many parts one finding names.
const maxNames = 12

func names(parts []*kits.Part) string { return english.And(kits.PartIDs(parts), maxNames) }

// homeless reports the parts that no printer can print.
func (p *Plan) homeless(printers []*kits.Printer) []plan.Finding {
	var list []plan.Finding
	none := map[string][]*kits.Part{}
	for _, part := range p.Parts {
		if part.Fits() {
			continue
		}
		nearest, least := -1, math.Inf(1)
		for k := range printers {
			if over := longest(part.On[k].Over); part.Tried[k] && over < least {
				nearest, least = k, over
			}
		}
		if nearest < 0 {
			none[part.Of.Printed] = append(none[part.Of.Printed], part.Of)
			continue
		}
		list = append(list, part.tooLarge(printers[nearest], part.On[nearest]))
	}
	for _, process := range []string{kits.Resin, kits.Filament} {
		if parts := none[process]; len(parts) > 0 {
			text := fmt.Sprintf("no printer of the kit prints %s, which %s needs", process, names(parts))
			list = append(list, plan.NewFinding(plan.Printing, plan.Fault, text).About(parts[0].ID).
				Suggest("add a printer with process: "+process+" under printers", "have it printed elsewhere"))
		}
	}
	return list
}

func longest(v geom.Vec) float64 { return max(v[0], v[1], v[2]) }

var sides = [3]string{"width", "depth", "height"}

// tooLarge says by how much a part sticks out of the printer that comes nearest.
func (p *Planned) tooLarge(printer *kits.Printer, f Fitting) plan.Finding {
	var over []string
	for k := range 3 {
		if f.Over[k] > 0 {
			over = append(over, fmt.Sprintf("%.1f mm along its %s of %g mm", f.Over[k], sides[k], printer.Volume[k]))
		}
	}
	text := fmt.Sprintf("%s fits no printer; it sticks out of %s by %s, however it is turned or tilted", p.Of.Label(), printer.ID, strings.Join(over, " and "))
	return plan.NewFinding(plan.Printing, plan.Fault, text).About(p.Of.ID).
		Since("part "+p.Of.ID, p.Of.Pos).Since("printer "+printer.ID, printer.Pos).
		Suggest("split it", "have it printed elsewhere")
}

// coarse reports printers whose layers are too high for their lines: the common
// limit is four fifths of the nozzle, which lays lines about as wide.
func coarse(printers []*kits.Printer) []plan.Finding {
	var list []plan.Finding
	for _, p := range printers {
		if p.Process == kits.Filament && p.Layer > 0.8*p.Line+1e-9 {
			text := fmt.Sprintf("%s: layers of %g mm are more than four fifths of a line of %g mm, and bond badly", p.ID, p.Layer, p.Line)
			list = append(list, plan.NewFinding(plan.Printing, plan.Caution, text).Since("printer "+p.ID, p.Pos))
		}
	}
	return list
}

// remark is one thing that is wrong with a part.
type remark struct {
	of           string // names it, the same in every plan
	much         float64
	kind         string // of the finding
	text, repair string
}

func (p *Planned) finding(r remark) plan.Finding {
	return plan.NewFinding(r.kind, plan.Caution, p.Of.Label()+": "+r.text).
		About(p.Of.ID).Since("part "+p.Of.ID, p.Of.Pos).Suggest(r.repair)
}

// remarks lists what is wrong with a part.
func (p *Planned) remarks() (list []remark) {
	if p.Hollows > 0 && p.Of.Printed == kits.Resin {
		list = append(list, remark{"sealed", 1, plan.Meshes, english.Count(p.Hollows, "sealed hollow") + ": resin stays in, and the part may crack later",
			"give each two holes of 3 mm, near the lowest and the highest point as it is printed"})
	}
	if p.Differ {
		list = append(list, remark{"copies", 1, plan.Meshes, "its copies differ in volume or surface; it was planned from the first", "give each shape a part of its own, or export the copies again"})
	}
	list = append(list, p.held()...)
	if p.profile == nil {
		return list
	}
	bed := p.Printer.Volume[0] * p.Printer.Volume[1]
	if l := p.Largest; l.Area > wideLayer*bed {
		list = append(list, remark{"largest layer", l.Area, plan.Layers, fmt.Sprintf("its largest layer, %.0f mm2 at %.1f mm, covers %.0f %% of the bed and pulls hard on the film%s", l.Area, l.At, 100*l.Area/bed, p.smaller()),
			"tilt it more, hollow it, or split it"})
	}
	if g := p.Growth; g.Area > growthLayer*bed {
		list = append(list, remark{"growth", g.Area, plan.Layers, fmt.Sprintf("its layers grow by %.0f mm2 at once at %.1f mm, %.0f %% of the bed: a line shows there, and it may come off its supports%s", g.Area, g.At, 100*g.Area/bed, p.smaller()),
			"tilt it so that no flat side lies along the film"})
	}
	return list
}

// crowded reports layers of a resin plate whose pieces together cover too much of
// the bed.
func (p *Plan) crowded(plate *Plate, of map[*Part]*Planned) []plan.Finding {
	if plate.Printer.Process != kits.Resin || len(plate.Pieces) < 2 {
		return nil
	}
	step := plate.Printer.Layer
	sum := make([]float64, int(plate.Height()/step)+2)
	for _, x := range plate.Pieces {
		if part := of[x.Part]; part.profile != nil && part.Setting == x.Setting {
			part.profile.addTo(sum, int(math.Round(x.Setting.Raised/step)), step)
		}
	}
	bed := plate.Printer.Volume[0] * plate.Printer.Volume[1]
	for n, a := range sum {
		if a > widePlate*bed {
			text := fmt.Sprintf("plate %d: at %.1f mm its pieces together cover %.0f %% of the bed", plate.Number, float64(n)*step, 100*a/bed)
			return []plan.Finding{plan.NewFinding(plan.Layers, plan.Caution, text).Suggest("move some of them to another plate")}
		}
	}
	return nil
}

// addTo adds the layers to those of a plate, whose step differs if the part is
// very tall.
func (p *Profile) addTo(sum []float64, from int, step float64) {
	for n := from; n < len(sum); n++ {
		i := int((float64(n-from) + 0.5) * step / p.Step)
		if i >= len(p.Area) {
			return
		}
		sum[n] += float64(p.Area[i])
	}
}
