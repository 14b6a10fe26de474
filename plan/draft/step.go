package draft

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryfit/kits/english"
	"dryfit/kits/geom"
)

// maxNames bounds the pieces that a sentence names.
const maxNames = 5

// steps tells the joins of the draft, in their order.
func (d *draft) steps() []Step {
	list := []Step{}
	for i := range d.joins {
		list = append(list, d.step(i))
	}
	return list
}

func (d *draft) step(i int) Step {
	j := &d.joins[i]
	ids := d.survey.IDs
	s := Step{Pieces: []string{ids[j.p]}, To: []string{ids[j.q]}, Build: j.build, Legs: []Leg{}, Undercut: j.undercut}
	var ways []string
	for _, l := range j.legs {
		leg, way := Leg{Toward: l.Toward}, "toward "+english.Direction(l.Toward)
		if !l.Endless() {
			leg.Distance = l.Distance
			way = fmt.Sprintf("%.1f mm %s", l.Distance, way)
		}
		s.Legs = append(s.Legs, leg)
		ways = append(ways, way)
	}
	s.Text = fmt.Sprintf("%s onto %s", s.Pieces[0], s.To[0])
	if j.close {
		s.Text = fmt.Sprintf("%s and %s closed on each other", s.To[0], s.Pieces[0])
	}
	if len(ways) > 0 {
		s.Text += ", " + strings.Join(ways, ", then ")
	}
	if j.undercut > 0 {
		s.Text += fmt.Sprintf(", past an undercut of up to %s mm: a screw thread or a snap", english.Number(j.undercut, 2))
	}
	if j.apart {
		s.Text += "; " + touchesNothing
	}
	return s
}

// legsOf is the way in of a step that was solved, in travel order.
func (d *draft) legsOf(step int) (legs []geom.Leg, undercut float64) {
	r := d.solved.Constraints
	for _, i := range r.PastMeshes(step) {
		if route := r.Route(i); route != nil {
			legs = slices.Clone(route.Legs)
			legs[0].Distance = math.Inf(1) // it starts outside the model
			return legs, route.Undercut
		}
	}
	return nil, 0
}

// builds lists the sub-builds that have steps of their own, then the main build.
func (d *draft) builds() []Build {
	list := []Build{}
	if d.solved == nil {
		return list
	}
	q := d.solved.Sequence
	for _, u := range append(q.SubBuilds(), 0) {
		b := Build{Build: q.Builds[u].Letter, Pieces: []string{}}
		if base := q.Builds[u].Base; base >= 0 {
			b.Base = d.solved.Kit.Pieces[base].ID
			if n, known := d.number[b.Base]; known {
				b.Base = d.survey.IDs[n]
			}
		}
		for _, j := range d.joins {
			if j.build == b.Build {
				b.Pieces = append(b.Pieces, d.survey.IDs[j.p])
			}
		}
		list = append(list, b)
	}
	return list
}
