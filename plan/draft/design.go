package draft

import (
	"context"
	"fmt"
	"slices"

	"dryfit/kits"
	"dryfit/kits/english"
	"dryfit/kits/geom"
	"dryfit/plan"
)

// draft is a kit as it is drafted: what is fitted to what, in which direction, and what
// is held in which space.
type draft struct {
	*relations
	ids     []string // of the pieces, as the draft calls them
	files   []string // mesh: of each piece; empty if it is named after the piece
	number  map[string]int
	joins   []join
	alone   [][]int // islands besides the first
	spaces  []space
	solved  *plan.Project // nil if no order was found
	dropped []string      // comments on what was left out

	base       base        // of the first island
	pairs      map[int]int // pieces that are mirror images
	free       []bool      // the piece can leave the finished model in some direction
	measured   *plan.Geometry
	renumbered *plan.Geometry // with the numbers of the drafted kit
}

// join fits piece p to q, or closes their groups on each other.
type join struct {
	p, q   int
	close  bool
	after  []int     // pieces that are fitted before
	later  bool      // only once the halves of the base are closed
	bench  bool      // what hangs on p goes in with it
	toward *geom.Vec // nil if not known
	with   string
	note   string

	// For telling the step.
	build    string     // sub-build that it belongs to
	legs     []geom.Leg // of the way in
	undercut float64    // mm
	apart    bool       // it touches nothing that it is fitted to
}

// sayWay notes what is odd about the way in.
func (j *join) sayWay() {
	switch {
	case j.undercut > 0:
		j.with = "screw"
		j.note = fmt.Sprintf("past an undercut of up to %s mm; a thread or a snap?", english.Number(j.undercut, 2))
	case len(j.legs) > 1:
		j.note = "goes in by legs: " + legs(j.legs)
	}
}

// design drafts a kit.
func (m *Measurement) design(ctx context.Context) (*draft, error) {
	d := &draft{relations: m.relate(), number: map[string]int{}, measured: m.survey.Geometry()}
	d.free = make([]bool, len(m.Pieces))
	for _, byPiece := range d.measured.InTheWay {
		for p, blockers := range byPiece {
			d.free[p] = d.free[p] || len(blockers) == 0
		}
	}
	d.name()
	for p, id := range d.ids {
		d.number[id] = p
	}
	if len(d.disassembly.Locked) == 0 {
		d.hang()
		for i, j := range d.joins {
			d.joins[i].bench = j.bench && !d.continues(j)
		}
		d.sortJoins()
		d.pairs = d.findPairs()
		if err := d.settle(ctx); err != nil || d.solved != nil {
			return d, err
		}
	}
	d.joins, d.spaces = nil, nil
	d.takenApart()
	return d, nil
}

// hang joins the pieces of each island as they are best fitted to each other.
func (d *draft) hang() {
	for i, island := range d.islands() {
		if i > 0 {
			d.alone = append(d.alone, island)
		}
		base, parent := d.fitTo(island)
		if i == 0 {
			d.base = base
		}
		for _, p := range island {
			if q := parent[p]; q >= 0 {
				d.joins = append(d.joins, join{p: p, q: q, close: p == base.half, bench: d.isUnit(p, parent)})
			}
		}
	}
}

// unitFace is up to how many times as large a unit may be, seen from its largest side, as
// the piece it goes in with, unless that is the largest in it: a floor with its furniture
// is one, or a seat with its figure; a strut and the wing it carries are not; ours.
const unitFace = 4

// isUnit reports whether a piece is built up on the bench with all that is fitted to it.
func (d *draft) isUnit(p int, parent []int) bool {
	box, all, most := d.survey.Pieces[p].Box, 0, 0.0
	for x := range parent {
		for q, steps := x, 0; q >= 0 && steps <= len(parent); q, steps = parent[q], steps+1 {
			if q == p {
				box = box.Around(d.survey.Pieces[x].Box)
				most = max(most, d.room[x])
				all++
				break
			}
		}
	}
	return all > 1 && (d.room[p] >= 0.99*most || largestSide(box) <= unitFace*largestSide(d.survey.Pieces[p].Box))
}

// largestSide is the area of the largest side of a box, mm2.
func largestSide(box geom.Box) float64 {
	size := box.Size()
	return max(size[0]*size[1], size[1]*size[2], size[2]*size[0])
}

// solve looks for an order of a kit.
func (d *draft) solve(k *kits.Kit) (*plan.Project, bool, error) {
	p, err := plan.New(k, d.geometry(k))
	if err != nil {
		return nil, false, err
	}
	return p, len(p.Solution.Stuck) == 0, nil
}

// sound reports whether there is an order of the draft as it is so far.
func (d *draft) sound() (bool, error) {
	k, err := d.kit()
	if err != nil {
		return false, err
	}
	_, sound, err := d.solve(k)
	return sound, err
}

// settle chooses the directions of travel and the spaces such that there is an order. If
// there is none with any directions, nothing is solved.
func (d *draft) settle(ctx context.Context) error {
	k, err := d.kit()
	if err != nil {
		return err
	}
	_, sound, err := d.solve(k)
	if err == nil && !sound {
		for i := range d.joins {
			d.joins[i].bench = !d.joins[i].close && d.carries(d.joins[i].p)
		}
		if k, err = d.kit(); err == nil {
			_, sound, err = d.solve(k)
		}
	}
	if err != nil || !sound {
		return err
	}
	if d.base.half >= 0 {
		if err := d.leaveForLater(); err != nil {
			return err
		}
		if k, err = d.kit(); err != nil {
			return err
		}
	}
	if err := d.chooseDirections(ctx, k); err != nil {
		return err
	}
	if err := d.chooseSpaces(ctx); err != nil {
		return err
	}
	if k, err = d.kit(); err != nil {
		return err
	}
	p, sound, err := d.solve(k)
	if err != nil || !sound {
		return err
	}
	p.Arrange()
	d.solved = p
	d.arrange()
	return nil
}

// carries reports whether anything is fitted to a piece.
func (d *draft) carries(p int) bool {
	return slices.ContainsFunc(d.joins, func(j join) bool { return j.q == p && !j.close })
}

// arrange puts the joins in their order, and states the directions of those for which none
// was chosen.
func (d *draft) arrange() {
	var list []join
	q := d.solved.Sequence
	for _, v := range q.Order {
		j := d.joins[v]
		j.legs, j.undercut = d.legsOf(v)
		j.build = q.Builds[q.BuildOf[v]].Letter
		j.sayWay()
		if len(j.legs) == 1 && j.toward == nil && !j.close {
			j.toward = &j.legs[0].Toward
		}
		list = append(list, j)
	}
	d.joins = list
}
