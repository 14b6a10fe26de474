package rescale

import (
	"fmt"
	"slices"
	"strings"

	"dryfit/kits"
	"dryfit/plan"
	"dryfit/plan/magnets"
)

// pocketsBySize compares the pockets that the kit states of magnets without a mesh with
// the sizes of those.
func (r *Report) pocketsBySize() []plan.Finding {
	var list []plan.Finding
	for _, m := range r.Kit.Magnets {
		piece := m.Pieces[0]
		part := r.Kit.Pieces[piece].Part
		wider, deeper, known := magnets.Slack(m, part)
		if !known || !part.FixedSize || r.Was.Mesh(piece) != nil {
			continue
		}
		f, p := r.Scaling.Factor, m.Pocket
		small := min(wider, deeper) < -tooTight
		loose := wider > adrift && wider+p.Diameter/f-p.Diameter <= located
		if !small && !loose {
			continue
		}
		details := fmt.Sprintf(": its pocket of %s is %s at %s, and it is %s", r.mm(p.Diameter/f, p.Depth/f), r.mm(p.Diameter, p.Depth), r.Scaling, r.mm(p.Diameter-wider, p.Depth-deeper))
		list = append(list, r.unseated(piece, small, details).Since("pocket of "+part.ID, p.Pos).Suggest(keepRoom))
	}
	return list
}

// seatsBySize: without meshes nothing is known of pockets. A piece that was slimmer than
// all it is fitted to, and is not any more, has no place in it.
func (r *Report) seatsBySize() []plan.Finding {
	var list []plan.Finding
	done := map[*kits.Part]bool{}
	for _, j := range r.Kit.Joins {
		for _, p := range j.Pieces {
			part := r.Kit.Pieces[p].Part
			if j.IsClose() || done[part] || !part.FixedSize || part.Size == nil || r.Was.Mesh(p) != nil {
				continue
			}
			done[part] = true
			if hosts := r.slimmer(part, j); len(hosts) > 0 {
				list = append(list, plan.NewFinding(Seating, plan.Caution, fmt.Sprintf("%s keeps its size, %s, and becomes as thick as what it is fitted to: %s; by sizes only", named(part), r.mm(part.Size.XYZ[:]...), strings.Join(hosts, "; "))).
					About(r.Kit.Pieces[p].ID).
					Since(part.ID+" does not scale", part.Pos).
					Suggest("choose a smaller one, or thicken what it is fitted to"))
			}
		}
	}
	return list
}

// slimmer lists what a part is fitted to and was thicker than it only at the old scale.
func (r *Report) slimmer(part *kits.Part, j *kits.Join) []string {
	slim := slices.Min(part.Size.XYZ[:])
	var list []string
	for _, o := range j.Onto {
		host := r.Kit.Pieces[o].Part
		if host.FixedSize || host.Size == nil || !host.ToPrint() {
			continue
		}
		if now := slices.Min(host.Size.XYZ[:]); now <= slim && now/r.Scaling.Factor > slim {
			list = append(list, fmt.Sprintf("%s, %s where it is slimmest, instead of %s", host.ID, r.mm(now), r.mm(now/r.Scaling.Factor)))
		}
	}
	return list
}
