package page

import (
	"dryfit/graphviz/safety"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/kits/mesh"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/rehearse"
)

// Model is the data that the page shows of a kit. Pieces, builds and parts are
// named by their index, steps by their number.
type Model struct {
	Kit       string         `json:"kit"`
	About     string         `json:"about"`
	Scale     string         `json:"scale"`
	Revision  string         `json:"revision"`
	OK        bool           `json:"ok"`
	Unchecked bool           `json:"unchecked"` // the meshes are newer than the findings
	Proven    bool           `json:"proven"`    // the steps are in a proven order
	Schematic bool           `json:"schematic"` // boxes laid out by the joins, for want of meshes
	Simpler   bool           `json:"simpler"`   // the shapes have fewer triangles than the meshes
	Pieces    []Piece        `json:"pieces"`
	Steps     []Step         `json:"steps"`
	Builds    []Build        `json:"builds"`
	Findings  []plan.Finding `json:"findings"`
	Clashes   []Clash        `json:"clashes"`
	Parts     []Part         `json:"parts"`
	Cautions  []string       `json:"cautions"` // for the work that the kit asks for
	Time      string         `json:"time"`     // how long the build takes; empty if no hands-on times are stated
	Printers  bool           `json:"printers"` // the printing can be planned
	Timed     bool           `json:"timed"`    // the days can be planned
}

// Piece is a piece in its position in the model.
type Piece struct {
	ID     string   `json:"id"`
	Label  string   `json:"label"`
	Number string   `json:"number"`
	Step   int      `json:"step"`            // that fits it; 0 for a base
	Shape  string   `json:"shape,omitempty"` // name of its shape; empty if it only has a box
	Min    geom.Vec `json:"min"`             // mm
	Max    geom.Vec `json:"max"`
	Stuck  string   `json:"stuck,omitempty"` // kind of the fault that keeps it out
	By     []int    `json:"by,omitempty"`    // the pieces in its way
}

// Step is a step and what travels in it.
type Step struct {
	Number   int        `json:"number"`
	Kind     plan.Kind  `json:"kind"`
	Text     string     `json:"text"`
	Note     string     `json:"note,omitempty"`
	Undo     []string   `json:"undo,omitempty"` // what is taken off first
	Redo     []string   `json:"redo,omitempty"` // and put back afterwards
	Build    int        `json:"build"`
	Pieces   []int      `json:"pieces"`
	Onto     int        `json:"onto"`  // the piece that it fits onto; -1 for other kinds
	After    int        `json:"after"` // the step whose pieces are all in place; 0 for none
	Still    []int      `json:"still"` // pieces in place besides those
	Movers   []Mover    `json:"movers"`
	LastCall []callLine `json:"last_call"`
	Cautions []string   `json:"cautions"` // in short
}

// Mover is pieces that travel together. Their first leg comes from outside; its
// distance is 0.
type Mover struct {
	Pieces []int      `json:"pieces"`
	Way    []geom.Leg `json:"way"`
}

// Build is the main build or a sub-build.
type Build struct {
	Letter string `json:"letter"`
	Name   string `json:"name"`
	Joins  int    `json:"joins"` // the step that joins it; 0 for the main build
	Into   int    `json:"into"`  // the build it is joined to; -1 for the main build
}

// Clash is two pieces in the same place.
type Clash struct {
	A     int      `json:"a"`
	B     int      `json:"b"`
	At    geom.Vec `json:"at"`    // mm
	Depth float64  `json:"depth"` // mm
}

// Part is a line of the parts list.
type Part struct {
	Number   string `json:"number"`
	Name     string `json:"name"`
	Quantity int    `json:"quantity"`
	Pieces   []int  `json:"pieces"`
	Steps    []int  `json:"steps"`
	Note     string `json:"note,omitempty"`
}

// newModel is the model of a project. meshes are those of the pieces, or nil; g is the
// detail in which they are shown.
func newModel(rep *plan.Project, meshes []*mesh.Mesh, g grains) *Model {
	needed, _ := rehearse.Usual(rep) // one that fails is a fault, or the days say why there is none
	k, q := rep.Kit, rep.Draft()
	m := &Model{Kit: k.Name, About: k.About, Scale: k.Scale, Revision: k.Revision, OK: rep.OK(), Proven: rep.Sequence != nil,
		Findings: local(rep.Findings, k.File), Schematic: meshes == nil, Simpler: g.rest > 0, Clashes: []Clash{},
		Cautions: safety.Texts(words.English, rep.Constraints.Hazards()),
		Printers: len(k.Printers) > 0, Timed: timed(rep)}
	if m.Timed {
		m.Time = words.English.Time(needed)
	}
	numbers := bill.NewNumbers(rep)
	m.pieces(k, q, meshes, numbers, g)
	m.steps(q)
	m.builds(q)
	m.stuck(rep)
	m.clashes(rep)
	for _, i := range bill.List(rep) {
		if i.Part.InModel() {
			m.Parts = append(m.Parts, Part{i.Number, i.Part.Name, i.Part.Quantity, k.Copies(i.Part), i.Steps, english.OneLine(i.Part.Note)})
		}
	}
	return m
}

func (m *Model) pieces(k *kits.Kit, q *plan.Sequence, meshes []*mesh.Mesh, numbers *bill.Numbers, g grains) {
	var boxes []geom.Box
	if meshes == nil {
		boxes = layOut(k)
	}
	for p, pc := range k.Pieces {
		out := Piece{ID: pc.ID, Label: k.Label(p), Number: numbers.Piece(p)}
		if meshes != nil && meshes[p].Len() > 0 {
			out.Shape, out.Min, out.Max = g.name(meshes[p]), meshes[p].Min, meshes[p].Max
		} else if boxes != nil {
			out.Min, out.Max = boxes[p].Min, boxes[p].Max
		}
		m.Pieces = append(m.Pieces, out)
	}
	for _, v := range q.Order {
		for _, p := range q.Solution.Constraints.Steps[v].Fits() {
			m.Pieces[p].Step = q.Place[v]
		}
	}
}

func (m *Model) steps(q *plan.Sequence) {
	r := q.Solution.Constraints
	groups := newGroups(len(r.Kit.Pieces))
	for _, mv := range q.Moves() {
		s := r.Steps[mv.Step]
		after, still := groups.follow(q.Place[mv.Step], mv)
		out := Step{Number: q.Place[mv.Step], Kind: s.Kind, Text: r.Does(mv.Step), Note: english.OneLine(s.Note()), Build: q.BuildOf[mv.Step],
			Pieces: []int{}, Onto: -1, After: after, Still: still, Movers: []Mover{}, LastCall: []callLine{}, Cautions: safety.Shorts(words.English, r.StepHazards(mv.Step))}
		out.Pieces = append(out.Pieces, s.Pieces()...)
		for _, a := range q.ActsFor(mv.Step) {
			switch {
			case a.Off:
				out.Undo = append(out.Undo, r.DoesAct(a))
			case a.Back:
				out.Redo = append(out.Redo, r.DoesAct(a))
			}
		}
		switch s.Kind {
		case plan.Fit:
			out.Onto = s.Base()
		case plan.Thread:
			out.Pieces = append(out.Pieces, s.To()...)
		}
		for _, x := range mv.Movers {
			way := append([]geom.Leg{}, x.Way...)
			if x.Way == nil && s.Join.Toward != nil {
				way = append(way, geom.Leg{Toward: *s.Join.Toward})
			}
			if len(way) > 0 {
				way[0].Distance = 0
			}
			out.Movers = append(out.Movers, Mover{x.Pieces, way})
		}
		if m.Proven {
			out.LastCall = lastCall(q, mv.Step)
		}
		m.Steps = append(m.Steps, out)
	}
}

func (m *Model) builds(q *plan.Sequence) {
	for u, b := range q.Builds {
		out := Build{Letter: b.Letter, Name: q.Title(u), Into: b.Parent}
		if u > 0 {
			out.Joins = q.Place[b.Join]
		}
		m.Builds = append(m.Builds, out)
	}
}

func (m *Model) clashes(rep *plan.Project) {
	g := rep.Constraints.Geometry
	if g == nil {
		return
	}
	for _, c := range g.Clashes {
		a, b := m.Pieces[c.A], m.Pieces[c.B]
		var both geom.Box
		for k := range 3 {
			both.Min[k], both.Max[k] = max(a.Min[k], b.Min[k]), min(a.Max[k], b.Max[k])
		}
		m.Clashes = append(m.Clashes, Clash{c.A, c.B, both.Centre(), c.Depth})
	}
}
