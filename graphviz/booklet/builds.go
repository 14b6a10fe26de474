package booklet

import (
	"fmt"
	"strconv"

	"dryfit/kits"
	"dryfit/plan"
)

// builds are the chapters of the steps, one for each visit of a build.
func (m *maker) builds() ([]Chapter, error) {
	all := map[int]int{}
	for _, v := range m.q.Order {
		all[m.q.BuildOf[v]]++
	}
	done := map[int]int{}
	w := &stepWriter{maker: m, all: all, done: done, waited: map[int]bool{}}
	var list []Chapter
	for i, vis := range m.visits {
		c, err := w.chapter(i, vis)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return list, nil
}

// stepWriter words steps one after the other.
type stepWriter struct {
	*maker
	all, done map[int]int  // steps of each build, and how many have been worded
	waited    map[int]bool // steps that have been waited for in full
}

func (w *stepWriter) chapter(i int, vis visit) (Chapter, error) {
	name := w.buildName(vis.build)
	if vis.again {
		name = w.l.Say("build.again", "build", name)
	}
	first, last := w.q.Place[vis.steps[0]], w.q.Place[vis.steps[len(vis.steps)-1]]
	text := w.l.Say("build.one", "first", strconv.Itoa(first))
	if last > first {
		text = w.l.Say("build.range", "first", strconv.Itoa(first), "last", strconv.Itoa(last))
	}
	text += "."
	if vis.build > 0 {
		join := w.q.Place[w.q.Builds[vis.build].Join]
		key := "build.joins"
		if join < first {
			key = "build.joined"
		}
		text += " " + w.l.Say(key, "step", strconv.Itoa(join))
	}
	if !vis.again && vis.build < len(w.q.Builds) {
		text += " " + w.l.Say("build.base", "part", w.piece(w.q.Builds[vis.build].Base))
	}
	c := Chapter{ID: fmt.Sprintf("build-%d", i+1), Title: name, Blocks: []Block{Text{text}}}
	scale := w.itemScale(vis)
	said := map[string]bool{}
	for _, v := range vis.steps {
		w.done[vis.build]++
		s, err := w.step(v, scale, said)
		if err != nil {
			return c, err
		}
		c.Blocks = append(c.Blocks, s)
	}
	return c, nil
}

// itemRoom is the largest picture of a part in the box of a step, in mm.
const itemWidth, itemHeight = 30.0, 16.0

// itemScale is the one scale of the parts in the boxes of a run of steps.
func (m *maker) itemScale(vis visit) float64 {
	var parts []*kits.Part
	for _, v := range vis.steps {
		if j := m.rules.Steps[v].Join; j != nil && m.rules.Steps[v].Kind == plan.Fit {
			parts = append(parts, m.kit.Pieces[j.Pieces[0]].Part)
		}
	}
	scale := m.tableScale(parts)
	if scale == 0 {
		return 0
	}
	return niceScale(scale * itemWidth / portraitWidth)
}

func (w *stepWriter) place(v int) string {
	u := w.q.BuildOf[v]
	n, all := strconv.Itoa(w.done[u]), strconv.Itoa(w.all[u])
	if u == 0 {
		return w.l.Say("build.place.main", "n", n, "all", all)
	}
	return w.l.Say("build.place", "letter", w.q.Builds[u].Letter, "n", n, "all", all)
}
