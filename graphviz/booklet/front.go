package booklet

import (
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/graphviz/draw"
	"dryfit/plan/rehearse"
)

// frontPaper is the room for the picture of the whole model.
var frontPaper = draw.Paper{Width: 180, Height: 120}

func (m *maker) front() ([]document.Chapter, error) {
	var blocks []document.Block
	if m.kit.About != "" {
		blocks = append(blocks, document.Text(timesSigns(m.kit.About)))
	}
	fig, err := m.wholeModel()
	if err != nil {
		return nil, err
	}
	if fig != nil {
		blocks = append(blocks, *fig)
	}
	blocks = append(blocks, m.facts(), document.Text(m.proven()))
	return one("front", "", blocks...)
}

// wholeModel is the picture of the finished model; nil without meshes.
func (m *maker) wholeModel() (*document.Figure, error) {
	scene := draw.Scene{}
	for p := range m.kit.Pieces {
		if m.renderer.Has(p) {
			scene.Still = append(scene.Still, p)
		}
	}
	if len(scene.Still) == 0 {
		return nil, nil
	}
	t, err := m.renderer.Render(m.ctx, &scene, draw.Choice{}, -1, frontPaper)
	if err != nil {
		return nil, err
	}
	return &document.Figure{Picture: t.Picture, Alt: m.l.Say("front.alt")}, nil
}

// facts are what the front page says of the kit.
func (m *maker) facts() document.Facts {
	stated := func(s string) string {
		if s == "" {
			return m.l.Say("front.not-stated")
		}
		return s
	}
	list := document.Facts{{Name: m.l.Say("front.scale"), Value: stated(m.kit.Scale)}}
	if size := m.renderer.Whole(); size != [3]float64{} {
		list = append(list, document.Fact{Name: m.l.Say("front.size"), Value: m.l.Say("front.size.value",
			"x", m.l.Number(size[0], 0), "y", m.l.Number(size[1], 0), "z", m.l.Number(size[2], 0))})
	}
	printed := 0
	for _, p := range m.kit.Pieces {
		if p.Part.ToPrint() {
			printed++
		}
	}
	list = append(list,
		document.Fact{Name: m.l.Say("front.pieces"), Value: m.l.Say("front.pieces.value", "printed", strconv.Itoa(printed), "other", strconv.Itoa(len(m.kit.Pieces)-printed))},
		document.Fact{Name: m.l.Say("front.steps"), Value: m.l.Say("front.steps.value", "n", strconv.Itoa(len(m.q.Order)), "builds", strconv.Itoa(len(m.q.SubBuilds())))})
	if s, err := rehearse.Usual(m.rep); err == nil && m.l.Time(s) != "" {
		list = append(list, document.Fact{Name: m.l.Say("front.time"), Value: m.l.Time(s)})
	}
	list = append(list, document.Fact{Name: m.l.Say("front.revision"), Value: stated(m.kit.Revision)}, document.Fact{Name: m.l.Say("front.for"), Value: stated(m.kit.For)})
	for _, f := range []document.Fact{{Name: "front.date", Value: m.kit.Date}, {Name: "front.contact", Value: m.kit.Contact}, {Name: "front.licence", Value: m.kit.Licence}} {
		if f.Value != "" {
			list = append(list, document.Fact{Name: m.l.Say(f.Name), Value: f.Value})
		}
	}
	return list
}

// proven says what the order was checked against.
func (m *maker) proven() string {
	if g := m.rules.Geometry; g != nil {
		return m.l.Say("front.proven.meshes", "mm", m.l.Number(g.Resolution, 2))
	}
	return m.l.Say("front.proven.file")
}

func (m *maker) reading() ([]document.Chapter, error) {
	list := document.Bullets{}
	say := func(keys ...string) {
		for _, k := range keys {
			list = append(list, m.l.Say("reading."+k))
		}
	}
	if len(m.pictures) > 0 {
		say("new", "end-on", "away", "over", "enlarged")
	}
	if len(m.kit.Wires) > 0 && len(m.pictures) > 0 {
		say("wire")
	}
	say("numbers", "last-call")
	if len(m.q.SubBuilds()) > 0 {
		say("builds")
	}
	say("dry")
	return one("reading", m.l.Say("reading.title"), list)
}
