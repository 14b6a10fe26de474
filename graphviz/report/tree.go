package report

import (
	"dryfit/plan"
)

// TreeData is the assembly tree.
type TreeData struct {
	Kit  string    `json:"kit"`  // name of the kit
	OK   bool      `json:"ok"`   // the kit has no fault
	Tree *TreeNode `json:"tree"` // the main build; null for a kit without pieces
}

// TreeNode is a build with its steps, and the builds that are joined in them.
type TreeNode struct {
	Letter string     `json:"letter"` // empty for the main build
	Name   string     `json:"name"`   // of the piece that it is built on
	Base   string     `json:"base"`   // id of that piece
	Steps  []TreeStep `json:"steps"`  // in build order
}

// TreeStep is a step of a build.
type TreeStep struct {
	Number int       `json:"number"`          // 0 when there is no proven order
	Kind   plan.Kind `json:"kind"`            // what sort of step it is
	Text   string    `json:"text"`            // what is done
	Pieces []string  `json:"pieces"`          // that are fitted or closed
	Joins  *TreeNode `json:"joins,omitempty"` // the build that is joined here
}

// Tree is the assembly tree as data; the drawing is made by package graphviz.
func Tree(p *plan.Project) TreeData {
	data := TreeData{Kit: p.Kit.Name, OK: p.OK()}
	if nodes := treeNodes(p); len(nodes) > 0 {
		data.Tree = &nodes[0]
	}
	return data
}

func treeNodes(p *plan.Project) []TreeNode {
	q := p.Draft()
	nodes := make([]TreeNode, len(q.Builds))
	for u := range nodes {
		nodes[u] = TreeNode{Letter: q.Builds[u].Letter, Name: q.Title(u), Steps: []TreeStep{}}
		if base := q.Builds[u].Base; base >= 0 {
			nodes[u].Base = p.Kit.Pieces[base].ID
		}
	}
	joins := map[int]*TreeNode{}
	for _, u := range q.SubBuilds() {
		joins[q.Builds[u].Join] = &nodes[u]
	}
	for _, v := range q.Order {
		s := p.Constraints.Steps[v]
		step := TreeStep{Kind: s.Kind, Text: p.Constraints.Does(v), Pieces: p.Kit.IDs(s.Pieces()), Joins: joins[v]}
		if p.Sequence != nil {
			step.Number = q.Place[v]
		}
		at := &nodes[q.BuildOf[v]]
		at.Steps = append(at.Steps, step)
	}
	return nodes
}
