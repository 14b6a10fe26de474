package report

import (
	"fmt"
	"math"

	"dryfit/graphviz/document"
	"dryfit/plan"
	"dryfit/plan/balance"
)

// BalanceData is mass and balance. Units are g, mm and cm3.
type BalanceData struct {
	Head
	Along    string   `json:"along"`             // axis along which it balances: x, y or z
	Support  float64  `json:"support"`           // position of its support
	Target   float64  `json:"target"`            // it must balance here or farther toward the ballast
	Known    bool     `json:"known"`             // enough is known to say where it balances
	Without  MassAt   `json:"without_ballast"`   // of the finished model
	Finished MassAt   `json:"finished"`          // with the ballast that the kit states
	Ballast  *Ballast `json:"ballast,omitempty"` // that the kit names
	Proven   bool     `json:"proven"`            // the stages are those of a proven order
	Stages   []Stage  `json:"stages"`            // of the main build, step by step
	Pieces   []Weight `json:"pieces"`            // of the model
	Notes    []string `json:"notes"`             // what the figures assume
	Cautions []string `json:"cautions"`          // for the work with ballast
}

// MassAt is a mass and where it balances.
type MassAt struct {
	Mass float64 `json:"mass"` // g
	At   float64 `json:"at"`   // mm along the axis
}

// Ballast is what the kit names as ballast.
type Ballast struct {
	Part   string  `json:"part"`                     // its id
	At     float64 `json:"at"`                       // where it lies
	Needed float64 `json:"needed"`                   // mass
	Solid  float64 `json:"needed_if_solid"`          // mass if filament were printed solid
	Stated float64 `json:"stated"`                   // mass that the kit states
	Volume float64 `json:"volume"`                   // that it takes
	Room   float64 `json:"room,omitempty"`           // that there is
	In     int     `json:"fitted_at_step,omitempty"` // number of the step
	Before int     `json:"before_step,omitempty"`    // number of the step that shuts it in
}

// Stage is the main build after a step.
type Stage struct {
	Step   int    `json:"step"`   // its number
	Text   string `json:"text"`   // what is done
	Pieces int    `json:"pieces"` // in the main build by then
	MassAt
}

// Weight is the mass of a piece.
type Weight struct {
	Piece  string        `json:"piece"`            // its id
	Mass   float64       `json:"mass"`             // g
	How    balance.How   `json:"how"`              // how the mass is known
	Fill   float64       `json:"fill,omitempty"`   // share that is solid inside the walls, 0 to 1
	Centre *[3]float64   `json:"centre,omitempty"` // of mass
	Place  balance.Place `json:"place"`            // how the centre is known
}

// Balance reports mass, balance and the ballast that is needed.
func Balance(p *plan.Project) *Report {
	l := balanced{balance.Of(p)}
	return subject(p, l.Findings(), l.blocks(), l.sheet(), func(h Head) any { return l.data(h) })
}

// balanced is the result to be worded.
type balanced struct{ *balance.Result }

func massAt(p balance.Point) MassAt { return MassAt{hundredth(p.Mass), hundredth(p.At)} }

func (l balanced) data(h Head) BalanceData {
	out := BalanceData{h, l.Axis(), l.Of.Support, l.Target, l.Known, massAt(l.Empty), massAt(l.Finished),
		l.ballastData(), l.Report.Sequence != nil, []Stage{}, []Weight{}, l.notes(), cautions(l.hazards())}
	for _, s := range l.Stages {
		out.Stages = append(out.Stages, Stage{l.Sequence.Place[s.Step], l.Report.Constraints.Does(s.Step), s.Pieces, massAt(s.Point)})
	}
	for p, w := range l.Weights {
		j := Weight{Piece: l.Report.Kit.Pieces[p].ID, Mass: hundredth(w.Mass), How: w.How, Fill: w.Fill, Place: w.Place}
		if w.Place != balance.Nowhere {
			j.Centre = pointer(hundredths(w.Centre))
		}
		out.Pieces = append(out.Pieces, j)
	}
	return out
}

func (l balanced) ballastData() *Ballast {
	if l.Of.Ballast == nil {
		return nil
	}
	b := &Ballast{Part: l.Of.Ballast.ID, At: hundredth(l.BallastAt), Needed: hundredth(l.Needed), Solid: hundredth(l.Solid),
		Stated: l.Stated, Volume: hundredth(l.Volume), Room: hundredth(l.Of.Room)}
	if l.Report.Sequence != nil && l.In >= 0 {
		b.In = l.Sequence.Place[l.In]
	}
	if l.Before >= 0 {
		b.Before = l.Sequence.Place[l.Before]
	}
	return b
}

func (l balanced) sheet() [][]string {
	rows := [][]string{{"kind", "step", "what", "mass g", l.Axis() + " mm", "how"}}
	add := func(kind, step, what string, p balance.Point) {
		rows = append(rows, []string{kind, step, what, figure(p.Mass), figure(p.At), ""})
	}
	for p, w := range l.Weights {
		at := ""
		if w.Place != balance.Nowhere {
			at = figure(w.Centre[l.Of.Along])
		}
		rows = append(rows, []string{"piece", "", l.Report.Kit.Pieces[p].ID, figure(w.Mass), at, string(w.How)})
	}
	for _, s := range l.Stages {
		add("stage", fmt.Sprint(l.Sequence.Place[s.Step]), l.Report.Constraints.Does(s.Step), s.Point)
	}
	add("without ballast", "", "", l.Empty)
	if l.Of.Ballast != nil {
		add("ballast needed", "", l.Of.Ballast.ID, balance.Point{Mass: l.Needed, At: l.BallastAt})
	}
	add("finished", "", "", l.Finished)
	return rows
}

func (l balanced) blocks() []document.Block {
	var b blocks
	b.heading("%s: balance along %s", l.Report.Kit.Name, l.Axis())
	b.add(l.facts())
	if len(l.Stages) > 0 && l.Stages[len(l.Stages)-1].Mass > 0 {
		title := "The main build as it grows, at the steps that bring the most"
		if l.Report.Sequence == nil {
			title += "; no order is proven, so in file order"
		}
		b.heading("%s", title)
		b.add(l.growth())
	}
	b.heading("How this was computed")
	b.bullets(l.notes())
	if list := l.hazards(); len(list) > 0 {
		b.add(cautionBlocks(list, false)...)
	}
	return b
}

// hazards are those of putting in ballast.
func (l balanced) hazards() []plan.Hazard {
	if l.Of.Ballast == nil {
		return nil
	}
	return plan.Only(plan.Hazards(l.Report.Kit), "lead", "superglue", "epoxy", "adhesive")
}

// facts are the main results.
func (l balanced) facts() document.Facts {
	var t document.Facts
	b := l.Of
	if !l.Known {
		t.Add("balance", "not known: the kit names no meshes. Weigh the dry model, balance it on an edge, and write weighed: {mass, at}")
		return t
	}
	t.Add("without ballast", "%s", l.point(l.Empty))
	if b.Ballast == nil {
		t.Add("ballast", "the kit names none")
		return t
	}
	if !l.Placed {
		t.Add("ballast", "%s: its position is not known; give at: to balance, or a mesh to the part", b.Ballast.Label())
		return t
	}
	t.Add("must balance at", "%s = %.0f mm, or farther toward the ballast: %g mm from its support", l.Axis(), l.Target, b.Margin)
	t.Add("ballast", "%s: %s", b.Ballast.Label(), l.amount())
	if b.Room > 0 {
		t.Add("room", "%.1f cm3 of %.1f cm3, as it lies at %g g/cm3", l.Volume, b.Room, b.Pack)
	}
	t.Add("finished", "%s", l.point(l.Finished))
	q := l.Sequence
	switch {
	case l.Report.Sequence == nil:
		t.Add("goes in", "no order is proven; see dryfit check")
		return t
	case l.In >= 0:
		t.Add("goes in", "at step %d: %s", q.Place[l.In], l.Report.Constraints.Does(l.In))
	}
	if l.Before >= 0 {
		t.Add("last call", "before step %d: %s", q.Place[l.Before], l.Report.Constraints.Does(l.Before))
	}
	return t
}

// amount words how much ballast is needed.
func (l balanced) amount() string {
	text := fmt.Sprintf("%.0f g needed at %s = %.0f mm", math.Ceil(l.Needed), l.Axis(), l.BallastAt)
	switch {
	case !l.Possible:
		text = fmt.Sprintf("cannot do it at %s = %.0f mm", l.Axis(), l.BallastAt)
	case l.Needed == 0:
		text = "none needed"
	}
	if l.Stated > 0 {
		text += fmt.Sprintf("; the kit states %.0f g", l.Stated)
	}
	return text
}

// point words a mass and where it balances.
func (l balanced) point(q balance.Point) string {
	text := fmt.Sprintf("%.0f g, balances at %s = %.0f mm", q.Mass, l.Axis(), q.At)
	if !l.Placed {
		return text + fmt.Sprintf("; its support is at %g mm", l.Of.Support)
	}
	if off := l.Off(q.At); off >= 0 {
		return text + fmt.Sprintf(", %.0f mm beyond its support (%g mm): it tips over", off, l.Of.Support)
	}
	return text + fmt.Sprintf(", %.0f mm from its support (%g mm), toward the ballast", -l.Off(q.At), l.Of.Support)
}

// growthShare is the share of the finished mass from which a step gets a row.
const growthShare = 0.03

func (l balanced) growth() document.Table {
	var rows [][]string
	before := 0.0
	for i, s := range l.Stages {
		if s.Mass-before >= growthShare*l.Finished.Mass || i == len(l.Stages)-1 {
			rows = append(rows, []string{fmt.Sprint(l.Sequence.Place[s.Step]), fmt.Sprintf("%.0f", s.Mass), fmt.Sprintf("%.0f", s.At), l.Report.Constraints.Does(s.Step)})
		}
		before = s.Mass
	}
	return document.NewTable([]string{"step", "mass g", "at mm", "what"}, rows...)
}
