package rescale

import (
	"math"
	"slices"

	"dryfit/kits/geom"
)

// Move is how far a piece of fixed size goes when what is around it scales, in mm: along each
// axis the side with which it rests on something stays on that; where it rests on both
// sides or on none, its middle goes to where the middle scales to. What is fitted to
// another piece of fixed size, or touches one more than all that scales, goes with that.
type Move struct {
	Piece int
	By    geom.Vec
}

// rests is how near, in mm, a wall must be for a piece to rest on it: pockets have 0.1 to 0.2
// mm to spare (common practice).
const rests = 0.3

// Moves lists the moves of the pieces of fixed size that have a mesh, in the order of the
// kit.
func (r *Report) Moves() []Move {
	var list []Move
	for p, pc := range r.Kit.Pieces {
		if by, keeps := r.moves[pc.ID]; keeps && r.Was.Mesh(p) != nil {
			list = append(list, Move{p, by})
		}
	}
	return list
}

// move finds the moves of all that keeps its size. The error says that the kit is too large.
func (r *Report) move(probes []*probe) error {
	r.moves = map[string]geom.Vec{}
	aside, err := r.Kit.Aside()
	for _, pc := range slices.Concat(r.Kit.Pieces, aside) {
		if m := r.Was.Meshes.Mesh(pc.ID); pc.Part.FixedSize {
			r.moves[pc.ID] = geom.Vec{}
			if m != nil {
				r.moves[pc.ID] = m.Box.Centre().Times(r.Scaling.Factor - 1)
			}
		}
	}
	for _, p := range probes {
		if id := r.Kit.Pieces[p.piece].ID; !r.scales(p.piece) {
			by := r.moves[id]
			by[p.axis] = (r.Scaling.Factor - 1) * r.anchor(p)
			r.moves[id] = by
		}
	}
	r.follow(r.resting())
	return err
}

// follow has a piece go with the one of fixed size that carries it or, if it touches such a
// one more than all that scales, with that.
func (r *Report) follow(on resting) {
	for p, pc := range r.Kit.Pieces {
		at := p
		for range r.Kit.Pieces { // no longer chain is possible
			next := r.carrier(at, on)
			if next < 0 {
				break
			}
			at = next
		}
		if at != p && !r.scales(p) {
			r.moves[pc.ID] = r.moves[r.Kit.Pieces[at].ID]
		}
	}
}

// carrier is the piece of fixed size that a piece of fixed size goes with; -1 if none.
func (r *Report) carrier(piece int, on resting) int {
	if r.scales(piece) {
		return -1
	}
	if j := r.Kit.Fitted(piece); j != nil && !r.scales(j.Onto[0]) {
		return j.Onto[0]
	}
	if o, most := on.beside[piece], on.most[piece]; most > on.scaling[piece] && on.scaling[o] > on.scaling[piece] {
		return o
	}
	return -1
}

// resting is what pieces of fixed size touch, by area in mm2.
type resting struct {
	scaling map[int]float64 // all that scales
	beside  map[int]int     // the piece of fixed size that it touches most
	most    map[int]float64 // and how much
}

func (r *Report) resting() resting {
	on := resting{map[int]float64{}, map[int]int{}, map[int]float64{}}
	g := r.Was.Constraints.Geometry
	if g == nil {
		return on
	}
	for _, t := range g.Touching {
		for _, pair := range [2][2]int{{t.A, t.B}, {t.B, t.A}} {
			switch p, o := pair[0], pair[1]; {
			case r.scales(o):
				on.scaling[p] += t.Contact
			case t.Contact > on.most[p]:
				on.most[p], on.beside[p] = t.Contact, o
			}
		}
	}
	return on
}

// anchor is the place along the axis of a probe that goes to where it scales to.
func (r *Report) anchor(p *probe) float64 {
	m := r.Was.Mesh(p.piece)
	below, above := math.Inf(1), math.Inf(1)
	for i := range p.lines {
		from, to, in := chord(p.lines[i].hits, int32(p.piece))
		if !in {
			continue
		}
		for _, h := range p.lines[i].hits {
			if int(h.piece) == p.piece || !r.scales(int(h.piece)) {
				continue
			}
			if h.along <= (from+to)/2 {
				below = min(below, math.Abs(from-h.along))
			} else {
				above = min(above, math.Abs(h.along-to))
			}
		}
	}
	switch low, high := below <= rests, above <= rests; {
	case low && !high:
		return m.Min[p.axis]
	case high && !low:
		return m.Max[p.axis]
	}
	return m.Box.Centre()[p.axis]
}
