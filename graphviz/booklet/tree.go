package booklet

import (
	"strconv"

	"dryfit/graphviz"
	"dryfit/graphviz/document"
	"dryfit/graphviz/picture"
)

// tree is the page of the sub-builds and how they join: a drawing where it can be
// read, and a table in any case.
func (m *maker) tree() ([]document.Chapter, error) {
	subs := m.q.SubBuilds()
	if len(subs) == 0 {
		return nil, nil
	}
	pic, err := m.treePicture(subs)
	if err != nil {
		return nil, err
	}
	var blocks []document.Block
	if pic != nil {
		blocks = append(blocks, document.Figure{Picture: pic, Alt: m.l.Say("tree.alt")})
	}
	t := document.Table{Caption: m.l.Say("tree.caption"), Widths: []float64{1.6, 5, 2, 2, 1.6}, Head: []string{
		m.l.Say("tree.build"), m.l.Say("tree.on"), m.l.Say("tree.join"), m.l.Say("tree.into"), m.l.Say("tree.steps")}}
	steps := map[int]int{}
	for _, v := range m.q.Order {
		steps[m.q.BuildOf[v]]++
	}
	for _, u := range subs {
		b := m.q.Builds[u]
		t.Rows = append(t.Rows, document.Row{Cells: []document.Cell{{Text: b.Letter}, {Text: m.piece(b.Base)}, {Links: []document.Link{stepLink(m.q.Place[b.Join])}},
			{Text: m.letterOf(b.Parent)}, {Text: strconv.Itoa(steps[u])}}})
	}
	return one("tree", m.l.Say("tree.title"), append(blocks, t)...)
}

func (m *maker) letterOf(u int) string {
	if u == 0 {
		return m.l.Say("build.main")
	}
	return m.q.Builds[u].Letter
}

// treePicture draws the builds; nil if the letters would be too small to read.
func (m *maker) treePicture(subs []int) (*picture.Picture, error) {
	nodes := []graphviz.Node{{Text: m.l.Say("build.main"), Into: -1}}
	at := map[int]int{0: 0}
	for i, u := range subs {
		at[u] = i + 1
	}
	for _, u := range subs {
		b := m.q.Builds[u]
		nodes = append(nodes, graphviz.Node{Text: b.Letter + "  " + m.piece(b.Base), Into: at[b.Parent], Label: strconv.Itoa(m.q.Place[b.Join])})
	}
	return graphviz.Joining(m.ctx, nodes, 180, 200)
}
