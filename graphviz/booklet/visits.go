package booklet

import "dryfit/plan"

// visit is a run of steps of one build: the sequence may leave a build and come back
// to it.
type visit struct {
	build int
	steps []int
	again bool
}

func (m *maker) findVisits() []visit {
	var list []visit
	seen := map[int]bool{}
	for _, v := range m.q.Order {
		u := m.q.BuildOf[v]
		if n := len(list); n == 0 || list[n-1].build != u {
			list = append(list, visit{build: u, again: seen[u]})
			seen[u] = true
		}
		last := &list[len(list)-1]
		last.steps = append(last.steps, v)
	}
	return list
}

// buildName is what a build is called in headings.
func (m *maker) buildName(u int) string {
	if u == 0 {
		return m.l.Say("build.main")
	}
	b := m.q.Builds[u]
	return m.l.Say("build.sub", "letter", b.Letter, "name", m.piece(b.Base))
}

// joinOf is the build whose joining to the rest a step is; 0 if none.
func (m *maker) joinOf(step int) int {
	for u := range m.q.Builds {
		if u > 0 && m.q.Builds[u].Join == step && m.rules.Steps[step].Kind == plan.Fit {
			return u
		}
	}
	return 0
}
