package rehearse

import (
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/plan"
)

// Reach takes apart what else opens on the finished model, past all that stays, and takes
// out a service item then, with all that is on it. One that does not open is got at: it
// alone would get out, past what is fixed to it as well. Of a space that has the openings
// that the kit names for the item only those count. Reach says what keeps the item in; nil
// if nothing does. Wires have slack and hold nothing. An item that nothing fits is a base,
// and always there.
func Reach(k *kits.Kit, g *plan.Geometry, steps []plan.Step, s *kits.Service) *Failure {
	m := newModel(k, g, steps)
	item := m.fits[s.Reach]
	if item < 0 {
		return nil
	}
	for v, step := range steps {
		if step.Wire == nil {
			m.make(v)
		}
	}
	off := m.comeOff(m.openJoins(item))
	if m.work > maxReopened {
		return &Failure{Action: Action{Step: item, Off: true}, Kind: GivenUp, Piece: -1}
	}
	for _, v := range off {
		m.undo(v)
	}
	m.service = s
	if steps[item].Join.Opens {
		return m.takeOff(item)
	}
	return m.gotAt(item, s.Reach)
}

// gotAt says what keeps a piece from getting out by itself, past all that is in one group
// with it.
func (m *model) gotAt(step, piece int) *Failure {
	if f := m.intoSpaces(piece, m.sizeOf(piece), piece); f != nil {
		return f
	}
	g := m.geometry
	if g == nil || len(g.Directions) == 0 || !g.Measured[piece] {
		return nil
	}
	stands := make([]bool, len(m.fits))
	for _, q := range m.unit(piece) {
		stands[q] = q != piece
	}
	var ways [][]int
	for d := range g.Directions {
		way := m.inTheWay([]int{piece}, d, stands)
		if len(way) == 0 {
			return nil
		}
		ways = append(ways, way)
	}
	if slices.ContainsFunc(g.Legs[piece], func(l plan.Legs) bool {
		return !slices.ContainsFunc(l.InTheWay, func(o int32) bool { return stands[o] })
	}) {
		return nil
	}
	fewest := slices.MinFunc(ways, func(a, b []int) int { return len(a) - len(b) })
	return &Failure{Action: Action{Step: step, Off: true}, Kind: Blocked, Piece: piece, Pieces: fewest}
}

// confirmService adds a fault for each service item that is said to stay in reach and
// cannot be reached.
func confirmService(p *plan.Project) {
	for _, s := range p.Kit.Service {
		f := Reach(p.Kit, p.Constraints.Geometry, p.Constraints.Steps, s)
		if f == nil {
			continue
		}
		item := p.Kit.Pieces[s.Reach].ID
		text := fmt.Sprintf("%s is said to stay in reach, and its rehearsal disagrees (%s): please report this with the kit file", item, f.Text(p.Kit, p.Constraints.Name))
		found := plan.NewFinding(plan.Rehearsal, plan.Fault, text)
		if f.Kind == GivenUp {
			found = plan.NewFinding(plan.Limit, plan.Fault, fmt.Sprintf("that %s stays in reach is not proven: so many joins open that not all of them were tried", item)).
				Suggest("let fewer joins open: only those that are opened on the finished model")
		}
		p.Add(found.About(item).Placed(s.Pos))
	}
}
