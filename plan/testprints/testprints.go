// Package testprints tells which parts of a kit were test-printed as they are now. A test
// print counts for the content of the mesh that it was printed from: a part whose mesh has
// changed since is untested again.
package testprints

import (
	"dryfit/kits"
	"dryfit/kits/progress"
	"dryfit/plan"
)

// State says how far a part is proven by printing it.
type State string

// The states, as named in JSON.
const (
	Untested State = "untested" // it was never printed to try it
	Changed  State = "changed"  // its mesh has changed since its last test print
	Bad      State = "bad"      // its last test print was not good
	Good     State = "good"     // its last test print was good
)

// Log is the test prints of a kit, by part.
type Log struct {
	p  *plan.Project
	of map[string][]*progress.Test
}

// Of is the log of a project; it is empty for one that was loaded without its progress.
func Of(p *plan.Project) *Log {
	l := &Log{p, map[string][]*progress.Test{}}
	if p.Progress == nil {
		return l
	}
	for _, t := range p.Progress.Tests {
		l.of[t.Part.Name] = append(l.of[t.Part.Name], t)
	}
	return l
}

// Tests lists the test prints of a part, the oldest first.
func (l *Log) Tests(p *kits.Part) []*progress.Test { return l.of[p.ID] }

// Last is the last test print of a part, nil if there is none.
func (l *Log) Last(p *kits.Part) *progress.Test {
	if list := l.of[p.ID]; len(list) > 0 {
		return list[len(list)-1]
	}
	return nil
}

// State is how far a printed part is proven: its last test print decides.
func (l *Log) State(p *kits.Part) State {
	t := l.Last(p)
	switch {
	case t == nil:
		return Untested
	case t.Mesh != Content(l.p, p):
		return Changed
	case t.Result != progress.ResultOK:
		return Bad
	}
	return Good
}

// Content identifies the content of the mesh that a part is printed from; empty without one.
func Content(p *plan.Project, part *kits.Part) string {
	if m := p.PrintedMesh(part); m != nil {
		return m.Hash.String()
	}
	return ""
}
