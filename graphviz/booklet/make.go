package booklet

import (
	"context"

	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/graphviz/words"
	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/stopping"
	"dryfit/plan"
	"dryfit/plan/bill"
	"dryfit/plan/testprints"
	"dryfit/plan/totals"
)

// Options of a booklet.
type Options struct {
	Language words.Language
	Cache    *draw.Cache    // pictures from before; nil for none
	Totals   *totals.Totals // what the kit takes; nil leaves it out
	// Progress, if not nil, is called with what is being done and how far it is, 0 to 1.
	Progress func(what string, share float64)
}

// Made is a booklet, and what is known of its pictures.
type Made struct {
	Book     *document.Document
	Pictures []StepPicture // of the steps that have one, in the sequence of the steps
	Cache    *draw.Cache

	m *maker
}

// StepPicture is the picture of a step and what was measured of it.
type StepPicture struct {
	Step  int // index in the rules
	Scene *draw.Scene
	draw.Rendering
}

// maker words a booklet.
type maker struct {
	ctx      context.Context
	l        words.Language
	kit      *kits.Kit
	rep      *plan.Project
	rules    *plan.Constraints
	q        *plan.Sequence
	renderer *draw.Renderer
	meshes   []*mesh.Mesh
	numbers  *bill.Numbers
	tests    *testprints.Log
	totals   *totals.Totals
	listed   []bill.Item
	itemOf   map[*kits.Part]*bill.Item
	progress func(string, float64)
	pictures map[int]*StepPicture // by step
	stepOf   map[int]int          // piece -> the step that fits it
	visits   []visit
	sides    sides
}

// Make words the booklet of a kit that has a proven order; without meshes it has no
// pictures. The
// error is one of reading the meshes, or that of the context.
func Make(ctx context.Context, rep *plan.Project, o Options) (*Made, error) {
	if o.Cache == nil {
		o.Cache = draw.NewCache()
	}
	if o.Progress == nil {
		o.Progress = func(string, float64) {}
	}
	meshes := rep.Meshes.All()
	m := &maker{ctx: ctx, l: o.Language, kit: rep.Kit, rep: rep, rules: rep.Constraints, q: rep.Sequence,
		renderer: draw.NewRenderer(meshes, o.Cache), meshes: meshes, numbers: bill.NewNumbers(rep), tests: testprints.Of(rep), totals: o.Totals, progress: o.Progress}
	m.findSteps()
	m.listed, m.itemOf = bill.List(rep), map[*kits.Part]*bill.Item{}
	for i := range m.listed {
		m.itemOf[m.listed[i].Part] = &m.listed[i]
	}
	m.visits, m.sides = m.findVisits(), m.findSides()
	if err := m.drawSteps(); err != nil {
		return nil, err
	}
	b, err := stopping.Soon(ctx, m.book)
	if err != nil {
		return nil, err
	}
	out := &Made{Book: b, Cache: o.Cache, m: m}
	for _, v := range m.q.Order {
		if p := m.pictures[v]; p != nil {
			out.Pictures = append(out.Pictures, *p)
		}
	}
	return out, nil
}

// findSteps finds the step that fits each piece.
func (m *maker) findSteps() {
	m.stepOf = map[int]int{}
	for v, s := range m.rules.Steps {
		for _, p := range s.Fits() {
			m.stepOf[p] = v
		}
	}
}

// book puts the chapters in their sequence.
func (m *maker) book() (*document.Document, error) {
	b := &document.Document{Language: m.l.Tag, Title: m.kit.Name, Subtitle: m.l.Say("front.subtitle"), Footer: m.footer(), Fixed: document.Words(m.l)}
	parts := []func() ([]document.Chapter, error){
		m.front, m.safety, m.needs, m.partsList, m.hardware, m.paintList, m.tree, m.reading, m.builds, m.wires, m.service, m.checklist,
	}
	for _, part := range parts {
		chapters, err := part()
		if err != nil {
			return nil, err
		}
		b.Chapters = append(b.Chapters, chapters...)
	}
	return b, nil
}

func (m *maker) footer() string {
	if m.kit.Revision == "" {
		return m.kit.Name
	}
	return m.kit.Name + ", " + m.l.Say("set.revision", "revision", m.kit.Revision)
}

// one is a chapter by itself.
func one(id, title string, blocks ...document.Block) ([]document.Chapter, error) {
	return []document.Chapter{{ID: id, Title: title, Blocks: blocks}}, nil
}
