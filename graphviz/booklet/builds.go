package booklet

import (
	"fmt"
	"slices"
	"strconv"

	"dryfit/graphviz/document"
	"dryfit/kits"
	"dryfit/plan"
)

// builds are the chapters of the steps. A visit of a build that is long has a chapter
// of its own; short ones share one, each under a heading, so that the page is not
// turned for a single step.
func (m *maker) builds() ([]document.Chapter, error) {
	all := map[int]int{}
	for _, v := range m.q.Order {
		all[m.q.BuildOf[v]]++
	}
	w := &stepWriter{maker: m, all: all, done: map[int]int{}, waited: map[int]bool{}}
	var list []document.Chapter
	for i, visits := range chaptersOf(m.visits) {
		c, err := w.chapter(i, visits)
		if err != nil {
			return nil, err
		}
		list = append(list, c)
	}
	return list, nil
}

// longVisit is the number of steps from which on a visit has a chapter of its own, and
// fewSteps that below which what stands before it is put into that chapter.
const longVisit, fewSteps = 6, 3

// chaptersOf puts visits into chapters.
func chaptersOf(visits []visit) [][]visit {
	var list [][]visit
	steps := 0
	for _, v := range visits {
		if n := len(list); n == 0 || steps >= longVisit || steps >= fewSteps && len(v.steps) >= longVisit {
			list = append(list, nil)
			steps = 0
		}
		last := &list[len(list)-1]
		*last = append(*last, v)
		steps += len(v.steps)
	}
	return list
}

// stepWriter words steps one after the other.
type stepWriter struct {
	*maker
	all, done map[int]int  // steps of each build, and how many have been worded
	waited    map[int]bool // steps that have been waited for in full
}

func (w *stepWriter) chapter(i int, visits []visit) (document.Chapter, error) {
	c := document.Chapter{ID: fmt.Sprintf("build-%d", i+1), Title: w.chapterTitle(visits)}
	scale := w.itemScale(visits)
	c.Blocks = append(c.Blocks, w.chapterSafety(visits)...)
	for _, vis := range visits {
		if len(visits) > 1 {
			c.Blocks = append(c.Blocks, document.Heading(w.visitName(vis)))
		}
		if text := w.intro(vis); text != "" {
			c.Blocks = append(c.Blocks, document.Text(text))
		}
		for _, v := range vis.steps {
			w.done[vis.build]++
			s, err := w.step(v, scale)
			if err != nil {
				return c, err
			}
			c.Blocks = append(c.Blocks, s)
		}
	}
	return c, nil
}

func (m *maker) visitName(vis visit) string {
	name := m.buildName(vis.build)
	if vis.again {
		name = m.l.Say("build.again", "build", name)
	}
	return name
}

// chapterTitle names the builds of a chapter, and its steps.
func (m *maker) chapterTitle(visits []visit) string {
	last := visits[len(visits)-1]
	from := strconv.Itoa(m.q.Place[visits[0].steps[0]])
	to := strconv.Itoa(m.q.Place[last.steps[len(last.steps)-1]])
	if len(visits) == 1 {
		if from == to {
			return m.l.Say("chapter.single", "build", m.visitName(last), "first", from)
		}
		return m.l.Say("chapter.one", "build", m.visitName(last), "first", from, "last", to)
	}
	var names []string
	for _, v := range visits {
		name := m.l.Say("chapter.main")
		if v.build > 0 {
			name = m.l.Say("chapter.sub", "letter", m.q.Builds[v.build].Letter)
		}
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return m.l.Say("chapter.many", "first", from, "last", to, "builds", m.l.And(names))
}

// intro says what a visit of a build starts with, and where the build joins the rest.
func (m *maker) intro(vis visit) string {
	text := ""
	if base := m.q.Builds[vis.build].Base; !vis.again && base >= 0 {
		text = m.l.Say("build.base", "part", m.piece(base))
	}
	if vis.build == 0 {
		return text
	}
	if text != "" {
		text += " "
	}
	join := m.q.Place[m.q.Builds[vis.build].Join]
	if join < m.q.Place[vis.steps[0]] {
		return text + m.l.Say("build.joined", "step", strconv.Itoa(join))
	}
	return text + m.l.Say("build.joins", "step", strconv.Itoa(join))
}

// itemWidth is the width of the largest picture of a part that a step takes, in mm.
const itemWidth = 20.0

// itemScale is the one scale of the parts that the steps of a chapter take.
func (m *maker) itemScale(visits []visit) float64 {
	var parts []*kits.Part
	for _, vis := range visits {
		for _, v := range vis.steps {
			if j := m.rules.Steps[v].Join; j != nil && m.rules.Steps[v].Kind == plan.Fit {
				parts = append(parts, m.kit.Pieces[j.Pieces[0]].Part)
			}
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
