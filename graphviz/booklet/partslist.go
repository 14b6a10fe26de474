package booklet

import (
	"math"
	"strconv"
	"strings"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/plan/bill"
)

// portraitRoom is the largest picture of a part in a list, in mm.
const portraitWidth, portraitHeight = 34.0, 22.0

// smallest is how large a part must be in a picture to be known, in mm; one that would
// be smaller is drawn larger, and says so.
const smallest = 5.0

// enlarged is how large it is drawn then, in mm.
const enlarged = 11.0

// partsList is the list of printed parts, a table for each build, with the columns of
// ISO 7573:2008 (from memory): reference, quantity, name, material, remark.
func (m *maker) partsList() ([]document.Chapter, error) {
	groups := m.partsByBuild(func(p *kits.Part) bool { return p.InModel() && p.ToPrint() })
	blocks := []document.Block{document.Text(m.l.Say("parts.intro"))}
	pieces, parts := 0, 0
	for _, g := range groups {
		t, err := m.partsTable(m.buildTitle(g.build), g.parts, false)
		if err != nil {
			return nil, err
		}
		blocks = append(blocks, t)
		for _, p := range g.parts {
			parts, pieces = parts+1, pieces+p.Quantity
		}
	}
	blocks = append(blocks, document.Text(m.l.Say("parts.total", "pieces", strconv.Itoa(pieces), "parts", strconv.Itoa(parts))))
	return one("parts", m.l.Say("parts.title"), blocks...)
}

type partsOfBuild struct {
	build int
	parts []*kits.Part
}

func (m *maker) buildTitle(u int) string {
	if u == 0 {
		return m.l.Say("parts.main")
	}
	return m.buildName(u)
}

// partsByBuild groups parts as they are listed: by the build in which they are first
// used.
func (m *maker) partsByBuild(which func(*kits.Part) bool) []partsOfBuild {
	var list []partsOfBuild
	for _, item := range m.listed {
		if !which(item.Part) {
			continue
		}
		if n := len(list); n == 0 || list[n-1].build != item.Build {
			list = append(list, partsOfBuild{build: item.Build})
		}
		last := &list[len(list)-1]
		last.parts = append(last.parts, item.Part)
	}
	return list
}

// partsTable is a table of parts with their pictures at one scale; with spares it has
// a column for them in place of the material.
func (m *maker) partsTable(caption string, parts []*kits.Part, spares bool) (document.Table, error) {
	fourth := m.l.Say("parts.material")
	if spares {
		fourth = m.l.Say("hardware.spares")
	}
	t := document.Table{Head: []string{m.l.Say("parts.have"), m.l.Say("parts.reference"), m.l.Say("parts.quantity"), m.l.Say("parts.name"), fourth,
		m.l.Say("parts.remark"), m.l.Say("parts.picture"), m.l.Say("parts.step")}, Widths: []float64{1.3, 1.6, 1.1, 4, 2.2, 3.9, 4.6, 1.4}}
	scale := m.tableScale(parts)
	if spares && scale > 0 {
		scale = 1 // hardware can be laid on the page to compare it
	}
	t.Caption = m.l.Say("parts.group", "build", caption, "scale", m.ratio(scale))
	if scale == 0 {
		t.Caption = caption
	}
	for _, p := range parts {
		pic, err := m.portrait(p, scale)
		if err != nil {
			return t, err
		}
		cell := document.Cell{Text: m.material(p)}
		if spares {
			cell = document.Cell{Text: m.spares(p)}
		}
		t.Rows = append(t.Rows, document.Row{ID: m.partID(p), Cells: []document.Cell{{Tick: true}, {Text: m.numbers.Of(p)}, {Text: strconv.Itoa(p.Quantity)}, {Text: timesSigns(p.Name)}, cell,
			{Text: m.remark(p)}, pic, {Links: m.stepsOf(p)}}})
	}
	return t, nil
}

// tableScale is the scale at which the largest of some parts fits its cell; 0 if none
// has a picture.
func (m *maker) tableScale(parts []*kits.Part) float64 {
	scale := 0.0
	for _, p := range parts {
		if w, h := m.renderer.Shadow(m.firstCopy(p)); w > 0 {
			if s := math.Min(portraitWidth/w, portraitHeight/h); scale == 0 || s < scale {
				scale = s
			}
		}
	}
	return niceScale(math.Min(scale, 2))
}

func (m *maker) firstCopy(p *kits.Part) []int {
	if c := m.kit.Copies(p); len(c) > 0 {
		return c[:1]
	}
	return nil
}

// portrait is the picture of a part at a scale, or larger if it would be too small to
// be known.
func (m *maker) portrait(p *kits.Part, scale float64) (document.Cell, error) {
	pieces := m.firstCopy(p)
	w, h := m.renderer.Shadow(pieces)
	if w == 0 || scale == 0 {
		return document.Cell{Text: m.l.Say("parts.not-pictured")}, nil
	}
	own := scale
	if size := math.Max(w, h) * scale; size < smallest && scale < 1 || w*scale > portraitWidth+1 || h*scale > portraitHeight+1 {
		own = niceScale(math.Min(4, math.Min(enlarged/math.Max(w, h), math.Min(portraitWidth/w, portraitHeight/h))))
		if w*scale > portraitWidth+1 || h*scale > portraitHeight+1 {
			own = niceScale(math.Min(portraitWidth/w, portraitHeight/h))
		}
	}
	pic, err := m.renderer.Portrait(m.ctx, pieces, own)
	c := document.Cell{Picture: pic, Alt: m.l.Say("parts.portrait", "number", m.numbers.Of(p))}
	if own != scale {
		c.Text = m.ratio(own)
	}
	return c, err
}

// niceScale is a scale that people use, not above one.
func niceScale(s float64) float64 {
	list := []float64{4, 3, 2, 1.5, 1, 0.5, 1.0 / 3, 0.25, 0.2, 1.0 / 6, 0.125, 0.1, 1.0 / 15, 0.05, 0.025, 0.02, 0.01}
	for _, n := range list {
		if n <= s*1.001 {
			return n
		}
	}
	return s
}

// stepsOf links to the steps in which the copies of a part come to the model.
func (m *maker) stepsOf(p *kits.Part) []document.Link {
	var links []document.Link
	for _, n := range m.itemOf[p].Steps {
		links = append(links, stepLink(n))
	}
	return links
}

// remark is what a builder should know of a part.
func (m *maker) remark(p *kits.Part) string {
	var list []string
	if p.Note != "" {
		list = append(list, remarked(p.Note))
	}
	switch {
	case bill.Mirrored(m.rep, p):
		list = append(list, m.l.Say("parts.mirror", "part", m.numbers.Of(p.Pair)))
	case p.Pair != nil:
		list = append(list, m.l.Say("parts.pair", "part", m.numbers.Of(p.Pair)))
	}
	var like []string
	for _, q := range m.itemOf[p].LooksLike {
		like = append(like, m.numbers.Of(q))
	}
	if like != nil {
		list = append(list, m.l.Say("parts.like", "part", m.l.And(like)))
	}
	if p.Fragile {
		list = append(list, m.l.Say("parts.fragile"))
	}
	if p.ToPrint() && p.Spares > 0 {
		list = append(list, m.l.Say("parts.spares", "count", strconv.Itoa(p.Spares)))
	}
	if p.Class == "option" {
		list = append(list, m.l.Say("parts.option"))
	}
	list = append(list, PrintNotes(m.l, m.tests, p)...)
	return strings.Join(list, "; ")
}
