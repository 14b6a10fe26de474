package project

import (
	"context"
	"encoding/hex"
	"fmt"
	"runtime"
	"sync"

	"dryfit/kits"
	"dryfit/kits/mesh"
	"dryfit/kits/mesh/health"
	"dryfit/plan"
)

// heavy is from how many triangles on a mesh is looked at by itself: it takes some
// 80 MB of memory for each million.
const heavy = 1_000_000

// examine looks at the health of all meshes that are not known from before.
func (s *Survey) examine(ctx context.Context) error {
	out := make([]*mesh.Health, len(s.Pieces))
	errs := make([]error, len(s.Pieces))
	slots := make(chan struct{}, runtime.GOMAXPROCS(0))
	var wait sync.WaitGroup
	var lock sync.Mutex
	done := 0
	for i, m := range s.Pieces {
		if m.Len() == 0 {
			continue
		}
		if h, known := s.known[keyOf(m)]; known {
			out[i] = h
			continue
		}
		if ctx.Err() != nil {
			return ctx.Err()
		}
		look := func() {
			out[i], errs[i] = health.Examine(m, health.Options{})
			lock.Lock()
			defer lock.Unlock()
			done++
			s.options.tell("looking at the health of each mesh", float64(done)/float64(len(s.Pieces)))
		}
		if m.Len() >= heavy {
			wait.Wait()
			look()
			continue
		}
		slots <- struct{}{}
		wait.Go(func() {
			defer func() { <-slots }()
			look()
		})
	}
	wait.Wait()
	for i, err := range errs {
		if err != nil {
			return err
		}
		if out[i] != nil {
			s.known[keyOf(s.Pieces[i])] = out[i]
		}
	}
	s.Health = out
	return nil
}

func keyOf(m *mesh.Mesh) string { return hex.EncodeToString(m.Hash[:]) }

// healthFindings words the problems of the meshes. all asks for those too that only
// matter to somebody; else those are told on which nothing can be built, and what
// keeps liquid resin in.
func (s *Survey) healthFindings(k *kits.Kit, all bool) []plan.Finding {
	var findings []plan.Finding
	for i, h := range s.Health {
		if h == nil {
			continue
		}
		for _, p := range h.Problems {
			if p.Kind == mesh.InsideOut && s.Pieces[i].Turned {
				continue // told by itself: it was turned
			}
			resin := p.Kind == mesh.Hollow && (k == nil || k.Pieces[i].Part.Printed == "resin")
			if !all && !p.Serious && !resin {
				continue
			}
			f := plan.Finding{Kind: plan.Meshes, Grade: plan.Note, Piece: s.IDs[i], Because: []plan.Reason{}, Repairs: []plan.Repair{{Text: p.Remedy}}}
			switch {
			case p.Serious:
				f.Grade = plan.Fault
			case resin || p.Kind == mesh.Bodies:
				f.Grade = plan.Caution
			}
			f.Text = fmt.Sprintf("%s: %s, at %s", s.IDs[i], p.Text, place(p.Place))
			if k != nil {
				f.Because = append(f.Because, plan.Reason{Text: "part " + k.Pieces[i].Part.ID, At: k.Pieces[i].Part.Pos.String()})
			}
			findings = append(findings, f)
		}
	}
	return findings
}

func place(p [3]float64) string {
	return fmt.Sprintf("x %.1f, y %.1f, z %.1f mm", p[0]+0, p[1]+0, p[2]+0)
}

// turnedFindings say which meshes were inside out, and were turned to be used.
func (s *Survey) turnedFindings() []plan.Finding {
	var findings []plan.Finding
	for i, m := range s.Pieces {
		if m.Turned {
			findings = append(findings, plan.Finding{Kind: plan.Meshes, Grade: plan.Caution, Piece: s.IDs[i], Because: []plan.Reason{},
				Repairs: []plan.Repair{{Text: "turn all its faces round in CAD and export it again"}},
				Text:    fmt.Sprintf("%s is inside out; it was turned to be measured", s.IDs[i])})
		}
	}
	return findings
}
