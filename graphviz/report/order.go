package report

import (
	"fmt"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits/english"
	"dryfit/plan"
	"dryfit/plan/precedence"
	"dryfit/plan/rehearse"
)

// OrderData is the build sequence. Times are in seconds.
type OrderData struct {
	Kit      string         `json:"kit"`            // name of the kit
	OK       bool           `json:"ok"`             // the kit has no fault
	Steps    []OrderStep    `json:"steps"`          // in build order; empty if no order is proven
	Builds   []Build        `json:"builds"`         // the main build first
	Cost     plan.Cost      `json:"cost"`           // of the order, term by term
	Time     *OrderTime     `json:"time,omitempty"` // of the whole build
	Cautions []string       `json:"cautions"`       // for the work that the kit asks for
	Findings []plan.Finding `json:"findings"`       // faults first
}

// OrderStep is a step of the sequence.
type OrderStep struct {
	Number      int         `json:"number"`                    // its place in the sequence, from 1
	Kind        plan.Kind   `json:"kind"`                      // what sort of step it is
	Text        string      `json:"text"`                      // what is done
	Pieces      []string    `json:"pieces"`                    // that are fitted or closed
	To          []string    `json:"to"`                        // what they are fitted to; the run of a wire
	Build       string      `json:"build"`                     // letter of the sub-build, empty for the main build
	With        string      `json:"with"`                      // id of the fixing
	Toward      *[3]float64 `json:"toward,omitempty" exact:""` // unit direction of travel
	Step        string      `json:"step"`                      // name of the step in the kit file
	Earliest    int         `json:"earliest"`                  // place that it could take in another order
	Latest      int         `json:"latest"`                    // place that it could take in another order
	LatestBound bool        `json:"latest_is_bound"`           // it may have to be earlier than latest
	Waits       []Wait      `json:"waits"`                     // for glue or paint
	LastCall    []string    `json:"last_call"`                 // what is out of reach for good afterwards
	Undo        []Undone    `json:"undo,omitempty"`            // what is taken off first, in turn, to let something in
	Redo        []Undone    `json:"redo,omitempty"`            // the same, as it is put back afterwards
}

// Undone is a join that is undone for a step, or made again after it.
type Undone struct {
	Number int      `json:"number"` // of the step that makes it
	Text   string   `json:"text"`   // what is done
	Pieces []string `json:"pieces"` // that are taken off or put back
	Step   string   `json:"step"`   // name of the step in the kit file
}

// Wait is how long a step waits for another.
type Wait struct {
	After   int `json:"after"`   // number of the other step
	Seconds int `json:"seconds"` // from its end
}

// Build is the main build, or a sub-build that is joined to another when
// finished.
type Build struct {
	Letter string `json:"letter"`          // "main" for the main build
	Name   string `json:"name"`            // of the piece that it is built on
	Joins  int    `json:"joins,omitempty"` // number of the step that joins it to the rest
	Into   string `json:"into,omitempty"`  // letter of the build that it is joined to
}

// OrderTime has times in seconds.
type OrderTime struct {
	HandsOn int `json:"hands_on"`          // where stated
	OnePair int `json:"one_pair_of_hands"` // who does the steps as listed, round the clock, with waits
	Least   int `json:"critical_path"`     // with any number of hands
}

// Order reports the build sequence; without a proven one it has no document.
func Order(p *plan.Project) *Report {
	s, _ := rehearse.Usual(p) // nil if the times are too long to be planned, or if it adds a fault
	data := orderData(p)
	if p.Sequence == nil {
		return &Report{Report: document.Report{Data: data}}
	}
	r := newReport(p.Kit, p.OK(), orderBlocks(p, s), orderSheet(data.Steps), data)
	r.Beside = without(p.Findings)
	return r
}

// Cost is a document of what the order costs, term by term.
func Cost(q *plan.Sequence) *document.Document {
	if q.Cost == nil {
		return newDocument("Cost", []document.Block{document.Text("the kit is so large that its first order was kept and no cost was computed")})
	}
	var rows [][]string
	for _, t := range q.Cost {
		rows = append(rows, []string{t.Name, strconv.Itoa(t.Count), fmt.Sprintf("%g", t.Weight), t.Means})
	}
	rows = append(rows, []string{"total", "", fmt.Sprintf("%.2f", q.Cost.Total()), ""})
	return newDocument("Cost", []document.Block{document.NewTable([]string{"term", "count", "weight", "what it means"}, rows...)})
}

func orderBlocks(p *plan.Project, s *plan.Schedule) []document.Block {
	q := p.Sequence
	var b blocks
	b.text("%s", orderSummary(p, s))
	last, seen, done := -1, map[int]bool{}, waited{}
	for _, v := range q.Order {
		if u := q.BuildOf[v]; u != last {
			b.heading("%s", build(q, u, v, seen[u]))
			last, seen[u] = u, true
		}
		b.add(orderStep(q, v, done))
	}
	b.add(cautionBlocks(p.Constraints.Hazards(), false)...)
	return b
}

func orderStep(q *plan.Sequence, v int, done waited) document.Step {
	s := document.Step{ID: document.StepID(q.Place[v]), Number: q.Place[v], Title: done.action(q, v)}
	s.First, s.Then = around(q.Solution.Constraints, q.ActsFor(v))
	if text := q.Solution.Constraints.Steps[v].Note(); text != "" {
		s.Notes = append(s.Notes, text)
	}
	if inside := q.PaintInside(v); len(inside) > 0 {
		s.Notes = append(s.Notes, "painted inside by now: "+q.Solution.Constraints.Labels(inside))
	}
	if masked := q.Masked(v); masked != "" {
		s.Notes = append(s.Notes, "masked by now: "+masked)
	}
	if list := callTexts(q, v); len(list) > 0 {
		s.LastCall = &document.Ticks{Title: "LAST CALL before this step; afterwards it is out of reach for good:", Items: list}
	}
	return s
}

// orderSummary sums up the order, with the time that its usual schedule takes.
func orderSummary(p *plan.Project, s *plan.Schedule) string {
	q := p.Sequence
	printed := 0
	for _, pc := range p.Kit.Pieces {
		if pc.Part.ToPrint() {
			printed++
		}
	}
	text := fmt.Sprintf("%s: %s, %s", p.Kit.Name, english.Count(len(q.Order), "step"), english.Count(printed, "printed piece"))
	if n := len(p.Kit.Pieces) - printed; n > 0 {
		text += " and " + english.Count(n, "other")
	}
	if n := len(q.SubBuilds()); n > 0 {
		text += " in " + english.Count(n, "sub-build")
	}
	if needed := language.Time(s); needed != "" {
		text += ". " + needed
	}
	return text + "."
}

func orderSheet(steps []OrderStep) [][]string {
	rows := [][]string{{"number", "kind", "what", "pieces", "to", "build", "with", "step", "earliest", "latest", "last call"}}
	aside := func(kind string, list []Undone) {
		for _, u := range list {
			rows = append(rows, []string{"", kind, u.Text, strings.Join(u.Pieces, " "), "", "", "", u.Step, "", "", ""})
		}
	}
	for _, s := range steps {
		aside("undo", s.Undo)
		rows = append(rows, []string{strconv.Itoa(s.Number), string(s.Kind), s.Text, strings.Join(s.Pieces, " "), strings.Join(s.To, " "),
			s.Build, s.With, s.Step, strconv.Itoa(s.Earliest), strconv.Itoa(s.Latest), strings.Join(s.LastCall, "; ")})
		aside("redo", s.Redo)
	}
	return rows
}

func orderData(p *plan.Project) OrderData {
	out := OrderData{Kit: p.Kit.Name, OK: p.OK(), Steps: []OrderStep{}, Builds: []Build{}, Cost: plan.Cost{},
		Cautions: cautions(p.Constraints.Hazards()), Findings: complete(p.Findings)}
	q := p.Sequence
	if q == nil {
		return out
	}
	f := q.Freedom()
	for _, v := range q.Order {
		out.Steps = append(out.Steps, orderStepData(p, f, v))
	}
	out.Builds = append(out.Builds, Build{Letter: "main", Name: q.Title(0)})
	for _, u := range q.SubBuilds() {
		b := q.Builds[u]
		out.Builds = append(out.Builds, Build{b.Letter, q.Title(u), q.Place[b.Join], q.Builds[b.Parent].Letter})
	}
	if q.Cost != nil {
		out.Cost = q.Cost
	}
	c := q.Clock()
	out.Time = &OrderTime{seconds(c.HandsOn), seconds(c.OnePair), seconds(c.Least)}
	return out
}

func orderStepData(p *plan.Project, f *precedence.Freedom, v int) OrderStep {
	q, r, k := p.Sequence, p.Constraints, p.Kit
	s := r.Steps[v]
	out := OrderStep{Number: q.Place[v], Kind: s.Kind, Text: r.Does(v), Pieces: k.IDs(s.Pieces()), To: k.IDs(s.To()), Build: q.Builds[q.BuildOf[v]].Letter,
		With: s.WithID(), Toward: r.Toward(v), Step: s.ID(), Earliest: f.Earliest[v], Latest: f.Latest[v], LatestBound: f.Bound[v], Waits: []Wait{}, LastCall: callTexts(q, v)}
	for _, w := range q.Waits(v) {
		out.Waits = append(out.Waits, Wait{q.Place[w.On], seconds(w.For)})
	}
	for _, a := range q.ActsFor(v) {
		u := Undone{q.Place[a.Step], r.DoesAct(a), k.IDs(r.Steps[a.Step].Pieces()), r.Steps[a.Step].ID()}
		switch {
		case a.Off:
			out.Undo = append(out.Undo, u)
		case a.Back:
			out.Redo = append(out.Redo, u)
		}
	}
	return out
}
