package plan

import "slices"

// leaves are the steps on which nothing depends but other leaf steps and outside
// coats: they close nothing, go into no space, neither block nor are blocked, and
// bring in no bench unit. They are placed one at a time, so that adding one moves
// no other step.
type leaves struct {
	leaf  []bool
	coats [][]int // leaf step -> the coats that it, or what depends on it, comes before
}

func (r *Constraints) leaves() *leaves {
	l := &leaves{make([]bool, len(r.Steps)), make([][]int, len(r.Steps))}
	after := make([][]Need, len(r.Steps))
	for _, n := range r.Needs {
		after[n.Before] = append(after[n.Before], n)
	}
	for v, s := range r.Steps {
		l.leaf[v] = s.Kind != Close && (s.Join == nil || !r.Change.IsBench(s.Join)) && !s.IsCoat()
	}
	for i := range r.Access {
		a := &r.Access[i]
		joins := a.Joins()
		l.leaf[a.Step] = l.leaf[a.Step] && a.Space == nil && len(joins) == 0
		for _, v := range joins {
			l.leaf[v] = false
		}
	}
	state := make([]int8, len(r.Steps)) // 1 while being visited, 2 when known
	var look func(v int)
	look = func(v int) {
		state[v] = 1
		for _, n := range after[v] {
			if r.forCoat(n) {
				l.coats[v] = append(l.coats[v], n.After)
				continue
			}
			if state[n.After] == 0 {
				look(n.After)
			}
			l.leaf[v] = l.leaf[v] && l.leaf[n.After] && state[n.After] == 2
			l.coats[v] = append(l.coats[v], l.coats[n.After]...)
		}
		slices.Sort(l.coats[v])
		l.coats[v] = slices.Compact(l.coats[v])
		state[v] = 2
	}
	for v := range r.Steps {
		if state[v] == 0 {
			look(v)
		}
	}
	return l
}

// forCoat reports whether a need puts a piece on before the outside coat.
func (r *Constraints) forCoat(n Need) bool {
	s := r.Steps[n.After]
	return s.IsCoat() && r.Statements[n.Statement].Kind == OfCoat
}

// needs are the needs between the leaf steps and the others, including that they
// come before their coats.
func (l *leaves) needs(r *Constraints) []Need {
	var list []Need
	for _, n := range r.Needs {
		if l.leaf[n.After] && !l.leaf[n.Before] {
			for _, c := range l.coats[n.After] {
				list = append(list, Need{n.Before, c, n.Statement})
			}
		}
	}
	return list
}

// beforeCoats moves the leaf steps that come before a coat in front of it.
func (l *leaves) beforeCoats(r *Constraints, order []int) []int {
	var list, waiting []int
	for _, v := range order {
		if l.leaf[v] && l.coats[v] != nil {
			waiting = append(waiting, v)
		}
	}
	done := make([]bool, len(order))
	for _, v := range order {
		if r.Steps[v].IsCoat() {
			for _, w := range waiting {
				if !done[w] && slices.Contains(l.coats[w], v) {
					done[w] = true
					list = append(list, w)
				}
			}
		}
		if !done[v] {
			done[v] = true
			list = append(list, v)
		}
	}
	return list
}
